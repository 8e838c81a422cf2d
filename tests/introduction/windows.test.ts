/**
 * The spans of the day rail in days from the last fertile egg, on the brood calendar (Mussen et al. 1987: egg 3 d, worker
 * sealed by day 9 and out by day 21, queen out by day 16, 15-17): from the earliest date that evidence allows to the latest.
 */
import { expect, it } from 'vitest';
import { deriveWindows, type Windows } from '../../server/introduction/brood/windows.ts';
import { at, zone } from './support/field-log.ts';

const ms = (day: number | null): number | null => (day === null ? null : at(0) + day * 86_400_000);
const interval = ([earliest, latest]: Bounds) => ({
  earliestMs: ms(earliest),
  latestMs: ms(latest),
  restsOn: [],
});
const dayOf = (atMs: number | null): number | null => (atMs === null ? null : (atMs - at(0)) / 86_400_000);
const inDays = (windows: Windows) =>
  Object.fromEntries(
    Object.entries(windows).map(([name, value]: [string, Windows[keyof Windows]]) => [
      name,
      value !== null && typeof value === 'object'
        ? [dayOf(value.fromMs), dayOf(value.untilMs)]
        : dayOf(value),
    ]),
  );

type Bounds = readonly [earliest: number | null, latest: number | null];
interface Row {
  readonly name: string;
  readonly egg: Bounds;
  readonly queenless: Bounds;
  readonly lateFrom?: number | null;
  readonly hopelessFrom?: number;
  readonly days: Readonly<Partial<Record<keyof Windows, number | null | readonly [number, number]>>>;
}

/** 10 in the morning is when day 0 is counted from here; the day of the cut begins at midnight. */
const midnight = (day: number): number => day - 10 / 24;

it.each<Row>([
  {
    name: 'the old queen seen in the parent',
    egg: [0, 0],
    queenless: [0, 0],
    days: {
      rearableLarvae: [0, 7],
      nothingRearableFromMs: 7.5,
      lateCutFromMs: midnight(7),
      virginPossible: [8.5, 17],
      openBroodUntilMs: 9,
      sealedBroodUntilMs: 21,
      layingWorkersWatchFromMs: 21,
      layingWorkersLikelyFromMs: 28,
      eggsOutOfTimeFromMs: 3.5,
    },
  },
  {
    name: 'queenless since two days before the last egg at the earliest',
    egg: [-1, 0],
    queenless: [-2, 0],
    days: {
      rearableLarvae: [-2, 7],
      virginPossible: [6.5, 17],
      layingWorkersWatchFromMs: 19,
      layingWorkersLikelyFromMs: 26,
    },
  },
  {
    name: 'nobody knows since when it is queenless: from the earliest last egg on',
    egg: [-1, 0],
    queenless: [null, null],
    days: { rearableLarvae: [-1, 7], virginPossible: [7.5, 17], layingWorkersWatchFromMs: 20 },
  },
  {
    name: 'nobody knows the earliest date of either',
    egg: [null, 0],
    queenless: [null, null],
    days: {
      rearableLarvae: [0, 7],
      virginPossible: [8.5, 17],
      layingWorkersWatchFromMs: null,
      layingWorkersLikelyFromMs: null,
    },
  },
  {
    name: 'a queen may be laying still: nothing ends',
    egg: [-1, null],
    queenless: [-1, null],
    days: {
      rearableLarvae: null,
      nothingRearableFromMs: null,
      lateCutFromMs: null,
      virginPossible: null,
      openBroodUntilMs: null,
      sealedBroodUntilMs: null,
      layingWorkersWatchFromMs: 20,
      eggsOutOfTimeFromMs: null,
    },
  },
  {
    name: 'nothing known',
    egg: [null, null],
    queenless: [null, null],
    days: { rearableLarvae: null, virginPossible: null, layingWorkersLikelyFromMs: null },
  },
  {
    name: 'the cut is counted from the split, and the last egg may be of day 2',
    egg: [0, 2],
    queenless: [0, 2],
    lateFrom: 0,
    days: { lateCutFromMs: midnight(7), nothingRearableFromMs: 9.5 },
  },
  {
    name: 'found without young brood on day 5: workers may lay already',
    egg: [null, null],
    queenless: [null, null],
    hopelessFrom: 5,
    days: { layingWorkersWatchFromMs: 5, layingWorkersLikelyFromMs: 12 },
  },
  {
    name: 'found without young brood on day 5, and its last egg is known',
    egg: [0, 0],
    queenless: [0, 0],
    hopelessFrom: 5,
    days: { layingWorkersWatchFromMs: 21, layingWorkersLikelyFromMs: 28 },
  },
])('$name', ({ egg, queenless, lateFrom, hopelessFrom, days }) => {
  const late = lateFrom === undefined ? undefined : ms(lateFrom);
  const windows = deriveWindows(interval(egg), interval(queenless), zone, late, ms(hopelessFrom ?? null));
  expect(inDays(windows)).toMatchObject(days);
});
