/** The rows of the drift's table: which world, what is missing or happens, and what is asked of the answer. */
import type { ScenarioOptions } from '../../simulator/index.ts';
import {
  changed,
  everyMinutes,
  jump,
  laidOnReal,
  realHives,
  resolutionG,
  second,
  simulated,
  without,
  withoutFrames,
  type MakeTruth,
} from './drift-truths.ts';

export interface DriftRow {
  readonly name: string;
  readonly make: MakeTruth;
  readonly goals: {
    /** Median error of the mass on day 5 within 5 % or 25 g. */
    readonly mass?: boolean;
    /** The 90 % interval holds the truth in 85-97 %. */
    readonly covers?: boolean;
    /** Per cent of the mornings. */
    readonly cut?: { readonly precision: number; readonly recall: number };
    /** The mass is declined in so many per cent. */
    readonly declines?: number;
    readonly neverGone?: boolean;
  };
}

const hourMs = 3_600_000;
const ordinary = { precision: 97, recall: 90 };
const held = { precision: 95, recall: 80 };
const truth = { mass: true, covers: true, cut: ordinary };
const practice: Omit<ScenarioOptions, 'seed' | 'days'> = { setting: 'practice' };
const small = { setting: 'usual' } as const;

/** A jar of syrup on the evening of the first day or the next: half of it water, which dries off. */
const syrup = (splitMs: number, seed: number) => [
  {
    kind: 'load-changed',
    atMs: splitMs + (7 + 24 * (seed % 2)) * hourMs,
    netG: 800 + 100 * (seed % 8),
    feed: true,
    waterShare: 0.45,
  } as const,
];
const robbers = (splitMs: number, seed: number) => [
  {
    kind: 'robbed',
    atMs: splitMs + 24 * hourMs,
    untilMs: splitMs + 96 * hourMs,
    gPerHour: 60 + 10 * (seed % 9),
  } as const,
];
const strangers = (splitMs: number, seed: number) => [
  {
    kind: 'drifted-in',
    atMs: splitMs + 24 * hourMs,
    untilMs: splitMs + 72 * hourMs,
    beesPerFlightHour: 120 + 20 * (seed % 9),
  } as const,
];

const fedLogged = changed(simulated(practice, syrup), (input, { movedAtMs }, seed) => ({
  ...input,
  events: [...input.events, { atMs: movedAtMs + (7 + 24 * (seed % 2)) * hourMs, kind: 'fed' }],
}));

const rows: readonly DriftRow[] = [
  { name: 'simulator, small', make: simulated(small), goals: { covers: true, cut: ordinary } },
  { name: 'simulator, practice size', make: simulated(practice), goals: truth },
  { name: 'second generator', make: second(), goals: truth },
  {
    name: 'second generator, small',
    make: second({ frames: [2, 4.5], share: [0.2, 0.35] }),
    goals: { covers: true, cut: ordinary },
  },
  { name: 'frames not entered', make: changed(simulated(practice), withoutFrames), goals: truth },
  { name: 'frames not entered, second generator', make: changed(second(), withoutFrames), goals: truth },
  { name: 'rain-held', make: simulated({ ...practice, scenario: 'rain-held' }), goals: { cut: held } },
  { name: 'rain-held, second generator', make: second({ weather: 'rain-held' }), goals: { cut: held } },
  { name: 'cold spring', make: simulated({ ...practice, meanC: 11 }), goals: { cut: held } },
  { name: 'cold spring, second generator', make: second({ weather: 'cold-spring' }), goals: { cut: held } },
  { name: 'no outside sensor', make: changed(simulated(practice), without('outsideC')), goals: truth },
  { name: 'no outside sensor, second generator', make: changed(second(), without('outsideC')), goals: truth },
  {
    name: 'no outside sensor, rain-held',
    make: changed(simulated({ ...practice, scenario: 'rain-held' }), without('outsideC')),
    goals: { cut: held },
  },
  {
    name: 'no outside sensor, cold spring',
    make: changed(simulated({ ...practice, meanC: 11 }), without('outsideC')),
    goals: { cut: held },
  },
  { name: 'no rain gauge', make: changed(simulated(practice), without('rainMm')), goals: truth },
  {
    name: 'no scale',
    make: changed(simulated(practice), without('weightG')),
    goals: { declines: 100, cut: ordinary },
  },
  {
    name: 'no scale, second generator',
    make: changed(second(), without('weightG')),
    goals: { declines: 100, cut: ordinary },
  },
  { name: 'a reading in 15 minutes', make: changed(simulated(practice), everyMinutes(15)), goals: truth },
  { name: 'a reading in 30 minutes', make: changed(simulated(practice), everyMinutes(30)), goals: truth },
  { name: 'a reading in 60 minutes', make: changed(simulated(practice), everyMinutes(60)), goals: truth },
  { name: 'steps of 50 g', make: changed(simulated(practice), resolutionG(50)), goals: truth },
  { name: 'a frame taken, logged', make: changed(second(), jump(28, -900, 'visit')), goals: truth },
  {
    name: 'a stone put on, not logged',
    make: changed(second(), jump(33, 600)),
    goals: { declines: 90, cut: ordinary },
  },
  { name: 'fed with syrup, logged', make: fedLogged, goals: { declines: 90, cut: ordinary } },
  {
    name: 'fed with syrup, not logged',
    make: simulated(practice, syrup),
    goals: { declines: 90, cut: ordinary },
  },
  { name: 'robbed', make: simulated(practice, robbers), goals: { declines: 90 } },
  { name: 'bees drift in', make: simulated(practice, strangers), goals: { declines: 90 } },
  { name: 'next to nobody leaves', make: second({ share: [0.005, 0.03] }), goals: { neverGone: true } },
];

const onReal: readonly DriftRow[] = [
  { name: 'laid on real scales', make: laidOnReal({ traffic: 0.25, siblings: false }), goals: truth },
  {
    name: 'laid on real scales, with settled siblings',
    make: laidOnReal({ traffic: 0.25, siblings: true }),
    goals: truth,
  },
  {
    name: 'laid on real scales, a full hive’s traffic',
    make: laidOnReal({ traffic: 1, siblings: true }),
    goals: {},
  },
];

/** All rows; those on open series where these are present. */
export const driftRowsOf = (): readonly DriftRow[] => (realHives.length > 0 ? [...rows, ...onReal] : rows);
