/** A simulated nuc with its keeper's log in a store: all at once, or as it comes. */
import { demoFacts, introductionIdOf } from '../../simulator/demo/demo-log.ts';
import type { PlannedNuc } from '../../simulator/demo/demo-plan.ts';
import { messagesByArrival, simulateNuc, wireNames, type ScenarioOptions } from '../../simulator/index.ts';
import type { SimMessage } from '../../simulator/sending/messages.ts';
import { logEntrySchema, type LogEntry } from '../../server/introduction/log/facts.ts';
import type { Position } from '../../server/store/places/assignments.ts';
import type { IncomingReading } from '../../server/store/port.ts';
import type { Store } from '../../server/store/store.ts';
import type { StoredUnit } from '../../server/units.ts';

const dayMs = 86_400_000;

const positionOf: Readonly<Record<string, Position>> = {
  'weight ': 'scale',
  'temperature brood': 'brood',
  'temperature cage': 'cage',
  'temperature ': 'outside',
  'rain ': 'rain',
  'humidity ': 'humidity',
};

/** Every reading arrives when it is taken. */
const readingOf = ({ sensor, quantity, probe, unit, value, stampedAtMs }: SimMessage): IncomingReading => ({
  sensor,
  quantity,
  probe: probe ?? '',
  unit: unit as StoredUnit,
  value,
  observedAtMs: stampedAtMs,
  receivedAtMs: stampedAtMs,
});

export interface SimulatedHistory {
  readonly nucId: string;
  readonly siteId: string;
  readonly introductionId: string;
  readonly splitMs: number;
  readonly endMs: number;
  /** By the instant at which they were taken. */
  readonly readings: readonly IncomingReading[];
  /** By the instant at which they were written. */
  readonly log: readonly LogEntry[];
}

/** Founds a site with one simulated nuc and its introduction; its readings and log are handed out, not stored yet. */
export function foundSimulated(store: Store, nucId: string, options: ScenarioOptions): SimulatedHistory {
  const nuc = simulateNuc(options);
  const { splitMs } = nuc;
  const siteId = `site-of-${nucId}`;
  const endMs = splitMs + nuc.days * dayMs;
  const createdAtMs = splitMs - dayMs;
  const planned: PlannedNuc = {
    key: nucId,
    name: nucId,
    siteKey: siteId,
    parentKey: `parent-of-${nucId}`,
    day: 0,
    queen: { key: `queen-of-${nucId}`, mark: 'simulated', source: 'simulated' },
    shows: '',
    model: {},
  };
  const introductionId = introductionIdOf(planned);
  store.places.putSite({ id: siteId, name: siteId, ...nuc.place });
  const box = { kind: 'wood', emptyKg: nuc.parameters.tareG / 1000 };
  store.places.putHive({ id: nucId, siteId, role: 'nuc', name: nucId, box, createdAtMs });
  store.introductions.open({
    id: introductionId,
    nucId,
    startingPoint: 'planned-split',
    method: 'candy-cage',
    setup: { plannedSplit: new Date(splitMs).toISOString() },
    openedAtMs: createdAtMs,
  });
  const readings = messagesByArrival(nuc, wireNames(nucId, siteId)).map(readingOf);
  const log = demoFacts(planned, nuc, endMs).map((fact) => logEntrySchema.parse(fact));
  return {
    nucId,
    siteId,
    introductionId,
    splitMs,
    endMs,
    readings: readings.sort((a, b) => a.observedAtMs - b.observedAtMs),
    log: log.sort((a, b) => a.writtenAtMs - b.writtenAtMs),
  };
}

/** Says where the channels that have shown by now stand; true where any was new. */
export function assignSimulated(store: Store, { nucId, siteId, splitMs }: SimulatedHistory): boolean {
  const standing = new Set(store.places.listAssignments().map(({ channelId }) => channelId));
  let any = false;
  for (const { id, sensor, quantity, probe } of store.channels.list()) {
    const position = positionOf[`${quantity} ${probe}`];
    if (position === undefined || standing.has(id) || (sensor !== nucId && sensor !== siteId)) continue;
    const owner = sensor === siteId ? { siteId } : { hiveId: nucId };
    store.places.assign({ channelId: id, owner, position, fromMs: splitMs - 2 * dayMs, toMs: null });
    any = true;
  }
  return any;
}

/** The whole history at once, as it lies in the store when all is over. */
export function storeSimulated(store: Store, nucId: string, options: ScenarioOptions): SimulatedHistory {
  const history = foundSimulated(store, nucId, options);
  store.introductions.append(history.log);
  store.ingest.commit({ readings: history.readings, quarantined: [], lastKnown: [] });
  assignSimulated(store, history);
  while (store.readings.seal().more);
  return history;
}
