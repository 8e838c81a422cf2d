/** Tables of the last fertile egg and of the time without a queen, in days after the split. */
import { expect, it } from 'vitest';
import type { Interval } from '../../../server/introduction/log/setup.ts';
import type { Entries, Setup } from './conditions.ts';
import { at, facts, stateAt } from './field-log.ts';

type Days = readonly [earliest: number | null, latest: number | null];
export interface Row {
  readonly name: string;
  readonly log: Entries;
  readonly over?: Setup;
  readonly egg?: Days;
  readonly queenless?: Days;
  readonly likely?: number | null;
  readonly notBefore?: number | null;
  readonly first?: number | null;
  readonly later?: readonly number[];
  /** Until then a queen may have laid whose eggs nobody saw. */
  readonly perhaps?: number | null;
  /** What the last egg rests on. */
  readonly restsOn?: readonly string[];
  readonly contradictions?: readonly string[];
}

const dayOf = (ms: number | null): number | null =>
  ms === null ? null : Math.round(((ms - at(0)) / 86_400_000) * 100) / 100;
const days = ({ earliestMs, latestMs }: Interval): Days => [dayOf(earliestMs), dayOf(latestMs)];

export const lastEggs = (rows: readonly Row[]): void => {
  it.each(rows)('$name', ({ log, over, restsOn, ...row }) => {
    const { evidence } = stateAt(log, at(60), over);
    const told = {
      egg: days(evidence.lastFertileEgg),
      queenless: days(evidence.queenlessSince),
      likely: dayOf(evidence.likelyLastEggMs),
      notBefore: dayOf(evidence.lastEggNotBeforeMs),
      first: dayOf(evidence.firstLastEggMs),
      later: evidence.laterLosses.map(dayOf),
      perhaps: dayOf(evidence.perhapsLaidUntilMs),
      contradictions: evidence.contradictions.map(({ kind }) => kind),
    };
    const { name: _, ...expected } = row;
    expect(told).toMatchObject(expected);
    if (restsOn) expect(evidence.lastFertileEgg.restsOn).toEqual(restsOn);
  });
};

export const notSeen = (over: Parameters<typeof facts.split>[0] = {}): Entries[number] => [
  at(0),
  facts.split({ oldQueen: 'not-seen', ...over }),
];
export const through = (day: number, over: Parameters<typeof facts.inspection>[0] = {}): Entries[number] => [
  at(day),
  facts.inspection(over),
];
/** Not on every frame. */
export const some = (day: number, over: Parameters<typeof facts.inspection>[0] = {}): Entries[number] =>
  through(day, { everyFrameChecked: false, beesShakenOff: false, ...over });
