/**
 * Whole introductions by the second generator and the second nest: a nuc of the size that keepers make, its keeper's log by the
 * calendar, readings in five minutes, stored and looked at again by the rules as a keeper's own would be. Nothing of the
 * simulator is in it. Until day 20, while brood of the old queen is left: the second nest knows no nuc without brood.
 */
import { join } from 'node:path';
import { logEntrySchema } from '../../server/introduction/log/facts.ts';
import type { Position } from '../../server/store/places/assignments.ts';
import type { IncomingReading } from '../../server/store/port.ts';
import { openStore, type Store } from '../../server/store/store.ts';
import { replayNuc } from '../../server/views/alerts/replay-nuc.ts';
import { AlertBook } from '../../server/watch/alert-book.ts';
import { dropFolder, newFolder } from '../support/server-process.ts';
import { secondNest, type SecondNest } from './second-nest.ts';
import { secondWorld, type SecondOptions, type SecondWorld } from './second-generator.ts';

const minuteMs = 60_000;
const hourMs = 60 * minuteMs;
const dayMs = 24 * hourMs;
const days = 20;
/** With what it carries (common practice). */
const beeG = 0.11;
const nucId = 'nuc';
const siteId = 'place';

/** What a five-minute reading tells, before it is sent. */
export interface Shown {
  readonly atMs: number;
  readonly weightG: number;
  readonly broodC: number;
  readonly outsideC: number;
  /** All bees that stayed when the foragers had left. */
  readonly beesG: number;
}
/** Changes what is shown; null: nothing is sent. */
export type Happening = (shown: Shown, movedAtMs: number) => Partial<Shown> | null;

export interface SecondIntroduction {
  readonly movedAtMs: number;
  readonly raised: readonly { readonly ruleId: string; readonly atMs: number; readonly days: number }[];
  readonly goneShareAt: (atMs: number) => number;
  readonly coldestC: number;
}

/** Ten in the morning by the clock of summer, on a day after the move. */
export function visitMs(movedAtMs: number, day: number): number {
  const then = new Date(movedAtMs + day * dayMs);
  return Date.UTC(then.getUTCFullYear(), then.getUTCMonth(), then.getUTCDate(), 8);
}

/** The lid is off for twenty minutes, and the brood is warm again within two hours. */
function atVisit(visits: readonly number[], shown: Shown): Shown {
  const since = visits.map((ms) => (shown.atMs - ms) / minuteMs).find((min) => min >= 0 && min < 180);
  if (since === undefined) return shown;
  const coolerK = since < 20 ? since / 5 : 4 * Math.exp((20 - since) / 30);
  const lifted = since < 20 ? { weightG: shown.weightG - 1200 - 20 * since } : {};
  return { ...shown, ...lifted, broodC: shown.broodC - coolerK };
}

function readingsOf(
  world: SecondWorld,
  { readC, bees }: SecondNest,
  visits: readonly number[],
  happening: Happening,
): IncomingReading[] {
  const readings: IncomingReading[] = [];
  world.atMs.forEach((atMs, i) => {
    const before = atVisit(visits, {
      atMs,
      weightG: world.weightG[i] as number,
      broodC: readC[i] as number,
      outsideC: world.outsideC[i] as number,
      beesG: bees * beeG,
    });
    const change = happening(before, world.movedAtMs);
    if (change === null) return;
    const { weightG, broodC, outsideC } = { ...before, ...change };
    const common = { observedAtMs: atMs, receivedAtMs: atMs };
    const temperature = { ...common, quantity: 'temperature', unit: 'Cel' } as const;
    readings.push(
      {
        ...common,
        sensor: nucId,
        quantity: 'weight',
        probe: '',
        unit: 'kg',
        value: Math.round(weightG) / 1000,
      },
      { ...temperature, sensor: nucId, probe: 'brood', value: Math.round(16 * broodC) / 16 },
      { ...temperature, sensor: siteId, probe: '', value: outsideC },
      {
        ...common,
        sensor: siteId,
        quantity: 'rain',
        probe: '',
        unit: 'mm',
        value: Math.round(10 * (world.rainMm[i] as number)) / 10,
      },
    );
  });
  return readings;
}

/** Cells cut and the cage hung on day 7, the candy end opened on day 10, looked for on day 17: all went well. */
export function logOf(
  { movedAtMs, framesOfBees }: Pick<SecondWorld, 'movedAtMs' | 'framesOfBees'>,
  [cut, open, look]: readonly number[],
) {
  const none = { open: 0, sealed: 0, emerged: 0, tornDown: 0 };
  const whole = { everyFrameChecked: true, beesShakenOff: true, temperament: 'calm' };
  const queenId = 'queen';
  const facts = [
    [
      movedAtMs,
      {
        kind: 'split-made',
        framesOfBees,
        framesOfSealedBrood: 2,
        framesOfOpenBrood: 1,
        framesOfStores: 1,
        oldQueen: 'seen-in-parent',
        cellsAlreadyThere: 'none',
      },
    ],
    [movedAtMs + minuteMs, { kind: 'moved', metres: 15 }],
    [cut, { kind: 'cells-cut', cells: { ...none, sealed: 8 }, ...whole, youngestBrood: 'old-larvae' }],
    [cut, { kind: 'queen-arrived', queenId, condition: 'alive', attendantsAlive: 8 }],
    [cut, { kind: 'cage-hung', queenId, candyEnd: 'closed' }],
    [open, { kind: 'cells-cut', cells: none, ...whole, youngestBrood: 'sealed-only' }],
    [open, { kind: 'cage-checked', behaviour: 'feeding', queenAlive: true }],
    [open, { kind: 'candy-opened', plug: 'whole', behaviour: 'feeding' }],
    [
      look,
      {
        kind: 'looked-for-queen',
        cageEmpty: true,
        queenSeen: true,
        eggsSeen: true,
        sealedWorkerBroodSeen: false,
        cells: none,
        behaviour: 'calm',
      },
    ],
  ] as const;
  return facts.map(([happenedAtMs, fact], i) =>
    logEntrySchema.parse({
      id: `entry-of-nuc-${String(i)}`,
      introductionId: 'introduction',
      type: 'fact',
      happenedAtMs: Number(happenedAtMs) + i * minuteMs,
      writtenAtMs: Number(happenedAtMs) + 20 * minuteMs,
      by: 'keeper',
      fact,
    }),
  );
}

const positionOf = (sensor: string, quantity: string): Position =>
  quantity === 'weight' ? 'scale' : quantity === 'rain' ? 'rain' : sensor === nucId ? 'brood' : 'outside';

function put(
  store: Store,
  world: SecondWorld,
  nest: SecondNest,
  happening: Happening,
  without: readonly Position[],
): void {
  const { movedAtMs, latDeg, lonDeg } = world;
  const fromMs = movedAtMs - dayMs;
  const visits = [7, 10, 17].map((day) => visitMs(movedAtMs, day));
  store.places.putSite({ id: siteId, name: siteId, latDeg, lonDeg, timeZone: 'Europe/Berlin' });
  const box = { kind: 'wood' };
  store.places.putHive({ id: nucId, siteId, role: 'nuc', name: nucId, box, createdAtMs: fromMs });
  store.introductions.open({
    id: 'introduction',
    nucId,
    startingPoint: 'planned-split',
    method: 'candy-cage',
    setup: { plannedSplit: new Date(movedAtMs).toISOString() },
    openedAtMs: fromMs,
  });
  store.introductions.append(logOf(world, visits));
  const readings = readingsOf(world, nest, visits, happening).filter(
    ({ sensor, quantity }) => !without.includes(positionOf(sensor, quantity)),
  );
  store.ingest.commit({ readings, quarantined: [], lastKnown: [] });
  for (const { id: channelId, sensor, quantity } of store.channels.list()) {
    const owner = sensor === nucId ? { hiveId: nucId } : { siteId };
    store.places.assign({ channelId, owner, position: positionOf(sensor, quantity), fromMs, toMs: null });
  }
}

/** Null where the weather is too warm for the second nest, whose bees carry no water. */
export function secondIntroduction(
  seed: number,
  options: Pick<SecondOptions, 'weather'> & {
    readonly stepMinutes?: number;
    readonly happening?: Happening;
    /** Sensors that it does not have. */
    readonly without?: readonly Position[];
  } = {},
): SecondIntroduction | null {
  const { stepMinutes, happening = () => ({}), without = [], ...weather } = options;
  const world = secondWorld(seed, { days, ...weather });
  const { movedAtMs, atMs, goneShare } = world;
  // Those that stay when the foragers have left.
  const bees = Math.max(2500, world.framesOfBees * 1400 - world.allG / beeG);
  const nest = secondNest(seed, world.outsideC, 5, { bees: [bees, bees] });
  if (nest.coreC.some((c) => !(c < 40))) return null;
  const folder = newFolder();
  const endMs = movedAtMs + days * dayMs;
  const store = openStore({ file: join(folder, 'welcomb.db'), nowMs: () => endMs });
  try {
    if (stepMinutes !== undefined)
      store.settings.put('farm', { historyStepMinutes: stepMinutes }, { by: 'test' });
    put(store, world, nest, happening, without);
    const asked = { nucId, from: new Date(movedAtMs).toISOString(), to: new Date(endMs - 1).toISOString() };
    const answer = replayNuc({ store, book: new AlertBook(store) }, { ...asked, limits: {} });
    return {
      movedAtMs,
      coldestC: Math.min(...nest.coreC),
      goneShareAt: (at) =>
        goneShare[Math.min(atMs.length - 1, Math.floor((at - movedAtMs) / (5 * minuteMs)))] as number,
      raised: (answer?.items ?? []).map(({ ruleId, raisedAt }) => {
        const at = Date.parse(raisedAt);
        return { ruleId, atMs: at, days: (at - movedAtMs) / dayMs };
      }),
    };
  } finally {
    store.close();
    dropFolder(folder);
  }
}
