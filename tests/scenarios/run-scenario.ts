/**
 * One simulated nuc through the real thing: its messages over real MQTT into the embedded broker, the store, the
 * analysis and the rules, with the simulated clock as the server's. Only the timers are ours.
 */
import { join } from 'node:path';
import { startIngest, type Ingest } from '../../ingest/ingest.ts';
import { createFarm, type Farm } from '../../server/service/farm-service.ts';
import { createEventsHub } from '../../server/views/events-hub.ts';
import type { LogEntry } from '../../server/introduction/log/facts.ts';
import { logEntrySchema } from '../../server/introduction/log/facts.ts';
import { episodeOf } from '../../server/rules/engine/alert-state.ts';
import type { Figure } from '../../server/words/phrase.ts';
import { openStore, type Store } from '../../server/store/store.ts';
import { demoFacts, introductionIdOf } from '../../simulator/demo/demo-log.ts';
import type { PlannedNuc } from '../../simulator/demo/demo-plan.ts';
import {
  messagesByArrival,
  simulateNuc,
  wireNames,
  type ScenarioOptions,
  type SimulatedNuc,
} from '../../simulator/index.ts';
import type { SimMessage } from '../../simulator/sending/messages.ts';
import { openPublisher, type Publisher } from '../../simulator/sending/publish.ts';
import { dropFolder, newFolder } from '../support/server-process.ts';

export interface RaisedAlert {
  readonly ruleId: string;
  readonly subject: string;
  readonly urgency: string;
  readonly raisedAtMs: number;
  readonly endedAtMs: number | null;
  readonly seen: string;
}

export interface ScenarioRun {
  readonly nuc: SimulatedNuc;
  readonly raised: readonly RaisedAlert[];
  readonly published: number;
  readonly stored: number;
}

export interface RunOptions {
  /** Simulated minutes between two looks of the rules. */
  readonly tickMinutes?: number;
  /** Days after the split at which the run ends; all that were simulated unless told. */
  readonly untilDay?: number;
}

const minuteMs = 60_000;
/** Under the ten minutes after which a reading counts as late. */
const partMinutes = 7.5;
const dayMs = 1440 * minuteMs;
const siteId = 'trial-site';
const nucId = 'trial-nuc';
const quiet = { info: () => undefined, warn: () => undefined, error: () => undefined };

/** The nuc on paper, as its keeper's log names it. */
const planned = (day: number): PlannedNuc => ({
  key: nucId,
  name: 'Trial nuc',
  siteKey: siteId,
  parentKey: 'trial-parent',
  day,
  queen: { key: 'trial-queen', mark: 'trial', source: 'trial' },
  shows: '',
  model: {},
});

export async function runScenario(
  options: ScenarioOptions,
  { tickMinutes = 30, untilDay }: RunOptions = {},
): Promise<ScenarioRun> {
  const nuc = simulateNuc(options);
  const folder = newFolder();
  let nowMs = nuc.splitMs - dayMs;
  const store = openStore({ file: join(folder, 'welcomb.db'), nowMs: () => nowMs });
  const events = createEventsHub();
  const farm = createFarm({
    store,
    events,
    clock: () => nowMs,
    startedAtMs: nowMs,
    onError: (error) => {
      throw error;
    },
  });
  let ingest: Ingest | undefined;
  let publisher: Publisher | undefined;
  try {
    ingest = await startIngest({
      port: store.ingest,
      broker: {
        kind: 'embedded',
        host: '127.0.0.1',
        port: 0,
        devices: { devices: [], isPassword: () => Promise.resolve(false) },
        allowAnonymous: true,
      },
      clock: () => nowMs,
      logger: quiet,
      onCommitted: (result) => {
        farm.watch.readingsCame(result, nowMs);
      },
    });
    publisher = await openPublisher({ url: `mqtt://127.0.0.1:${String(ingest.address.port)}` });
    setUp(store, nuc, farm, nowMs);
    const messages = messagesByArrival(nuc, wireNames(nucId, siteId));
    const endMs = nuc.splitMs + Math.min(untilDay ?? nuc.days, nuc.days) * dayMs;
    const log = keeperLog(nuc, endMs);
    let sent = 0;
    for (
      nowMs = Math.ceil((nuc.splitMs - dayMs) / minuteMs) * minuteMs;
      nowMs <= endMs;
      nowMs += tickMinutes * minuteMs
    ) {
      const tickAtMs = nowMs;
      let came = 0;
      // In parts that are not late yet when they arrive, as they would have come one by one.
      for (let left = tickMinutes; left > 0; left -= partMinutes) {
        nowMs = tickAtMs - Math.max(0, left - partMinutes) * minuteMs;
        const slice = takeUntil(messages, nowMs);
        came += slice.length;
        sent += await publisher.publish(slice);
      }
      await assignNew(store, farm, nuc, nowMs);
      await write(store, farm, takeWritten(log, nowMs), nowMs);
      // Twice: what came late is looked back at once nothing more comes.
      farm.watch.work(nowMs);
      farm.watch.tick(nowMs);
      while (farm.watch.work(nowMs + 5_000)) if (came === 0) break;
    }
    return {
      nuc,
      raised: raisedBy(farm),
      published: sent,
      stored: store.channels.list().reduce((sum, one) => sum + one.readings, 0),
    };
  } finally {
    await publisher?.close();
    await ingest?.stop();
    farm.stop();
    events.close();
    store.close();
    dropFolder(folder);
  }
}

function setUp(store: Store, nuc: SimulatedNuc, farm: Farm, nowMs: number): void {
  const { latDeg, lonDeg, timeZone } = nuc.place;
  store.places.putSite({ id: siteId, name: 'Trial site', latDeg, lonDeg, timeZone });
  store.places.putHive({
    id: nucId,
    siteId,
    role: 'nuc',
    name: 'Trial nuc',
    box: { kind: 'wood', emptyKg: nuc.parameters.tareG / 1000 },
    createdAtMs: nowMs,
  });
  store.introductions.open({
    id: introductionIdOf(planned(0)),
    nucId,
    startingPoint: 'planned-split',
    method: 'candy-cage',
    setup: { plannedSplit: new Date(nuc.splitMs).toISOString() },
    openedAtMs: nowMs,
  });
  farm.watch.setupChanged(nowMs);
}

/** The simulated keeper's log over the whole run; what was never logged (a look in the hands-off days) is not in it. */
const keeperLog = (nuc: SimulatedNuc, endMs: number): LogEntry[] =>
  demoFacts(planned(0), nuc, endMs).map((fact) => logEntrySchema.parse(fact));

function takeUntil(messages: SimMessage[], nowMs: number): SimMessage[] {
  const end = messages.findIndex(({ atMs }) => atMs > nowMs);
  return messages.splice(0, end === -1 ? messages.length : end);
}

function takeWritten(log: LogEntry[], nowMs: number): LogEntry[] {
  const written = log.filter(({ writtenAtMs }) => writtenAtMs <= nowMs);
  for (const entry of written) log.splice(log.indexOf(entry), 1);
  return written;
}

async function write(store: Store, farm: Farm, entries: readonly LogEntry[], nowMs: number): Promise<void> {
  if (entries.length === 0) return;
  const refused = store.introductions.append(entries).filter(({ result }) => result === 'refused');
  if (refused.length > 0) throw new Error(`the log was refused: ${JSON.stringify(refused)}`);
  await farm.views.afterLog(introductionIdOf(planned(0)), nowMs);
}

const positions = { 'weight ': 'scale', 'temperature brood': 'brood', 'temperature cage': 'cage' } as const;

/** Channels appear by themselves; the keeper says where they stand when they first show. */
function assignNew(store: Store, farm: Farm, nuc: SimulatedNuc, nowMs: number): Promise<void> {
  const standing = new Set(store.places.listAssignments().map(({ channelId }) => channelId));
  const fromMs = nuc.splitMs - 2 * dayMs;
  for (const { id, sensor, quantity, probe } of store.channels.list()) {
    if (standing.has(id)) continue;
    const own = positions[`${quantity} ${probe}` as keyof typeof positions];
    const position =
      sensor === siteId
        ? ({ temperature: 'outside', rain: 'rain', humidity: 'humidity' } as const)[quantity as 'rain']
        : own;
    if (!position) continue;
    store.places.assign({
      channelId: id,
      owner: sensor === siteId ? { siteId } : { hiveId: nucId },
      position,
      fromMs,
      toMs: null,
    });
    farm.watch.setupChanged(nowMs);
  }
  return Promise.resolve();
}

function raisedBy(farm: Farm): RaisedAlert[] {
  const open = [...farm.watch.book.alerts.values()].flatMap((alert) => {
    const episode = episodeOf(alert);
    const standing = alert.at.phase !== 'cleared' && alert.at.phase !== 'closed';
    return episode && standing
      ? [{ ruleId: alert.ruleId, subject: alert.subject, episode, endedAtMs: null }]
      : [];
  });
  return [...open, ...farm.watch.book.ended(0, 10_000)]
    .map(({ ruleId, subject, episode, endedAtMs }) => ({
      ruleId,
      subject: subject.kind,
      urgency: episode.urgency,
      raisedAtMs: episode.raisedAtMs,
      endedAtMs,
      seen: episode.message.seen.map((part) => (typeof part === 'string' ? part : set(part))).join(''),
    }))
    .sort((a, b) => a.raisedAtMs - b.raisedAtMs);
}

const set = ({ value, unit }: Figure): string =>
  unit === 'instant' ? new Date(value).toISOString().slice(0, 16) : `${value.toFixed(1)}${unit}`;
