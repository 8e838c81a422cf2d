/** When a replay may leap: nothing that rules tell apart can have come and gone unseen. */
import { describe, expect, it } from 'vitest';
import { atRest, lastWordsMs, nextReadingMs } from '../../server/overview/at-rest.ts';
import type { Series } from '../../server/signals/types.ts';

const minute = 60_000;
/** A reading every five minutes from instant 0 on; NaN is none. */
function every5(...values: readonly number[]): Series {
  const read = values.flatMap((value, i) => (Number.isNaN(value) ? [] : [{ atMs: i * 5 * minute, value }]));
  return {
    atMs: Float64Array.from(read, ({ atMs }) => atMs),
    value: Float64Array.from(read, ({ value }) => value),
  };
}
const none = (count: number): number[] => Array.from({ length: count }, () => NaN);
const half = 30 * minute;

describe('at rest', () => {
  it.each([
    ['a nest that stands still', every5(34.5, 34.6, 34.4, 34.5, 34.6, 34.5, 34.5), true],
    ['its scatter', every5(34.5, 34.7, 34.5, 34.5, 34.3, 34.5, 34.5), true],
    ['a dip that comes and goes', every5(34.5, 34.5, 34.0, 34.0, 34.5, 34.5, 34.5), false],
    ['the same scatter at a limit', every5(32.2, 32.1, 31.9, 31.9, 32.2, 32.2, 32.2), false],
    ['a slow fall', every5(34.5, 34.4, 34.3, 34.2, 34.1, 34.0, 33.9), true],
    ['a fall by more than a degree', every5(34.5, 34.2, 34.0, 33.8, 33.6, 33.4, 33.3), false],
  ])('%s', (_, broodC, expected) => {
    expect(atRest({ broodC }, 0, half)).toBe(expected);
  });

  it.each([
    ['wind on the scale', every5(9000, 9030, 8970, 9010, 9000, 9020, 9000), true],
    ['a hand on the lid', every5(9000, 9000, 10500, 9000, 9000, 9000, 9000), false],
    ['a frame put in', every5(9000, 9000, 9000, 10800, 10800, 10800, 10800), true],
  ])('%s', (_, weightG, expected) => {
    expect(atRest({ weightG }, 0, half)).toBe(expected);
  });

  it('asks every sensor', () => {
    const still = every5(34, 34, 34, 34, 34, 34, 34);
    const dip = every5(34, 34, 30, 30, 34, 34, 34);
    expect(atRest({ broodC: still, cageC: dip }, 0, half)).toBe(false);
    expect(atRest({}, 0, half)).toBe(true);
  });

  it('goes by the last reading where a sensor is silent, but for an hour after a fall', () => {
    const hours = (h: number): number => h * 60 * minute;
    const fell = every5(34.4, 34.2, 34.0, 33.8, 33.6, 33.4, 33.3, ...none(40), 33.3);
    const stood = every5(34.4, 34.4, 34.3, 34.4, 34.4, 34.4, 34.4, ...none(40), 34.4);
    expect(atRest({ broodC: fell }, half, half + hours(2))).toBe(false);
    expect(atRest({ broodC: fell }, half + minute, half + hours(1))).toBe(false);
    expect(atRest({ broodC: fell }, half + hours(1) + minute, half + hours(3))).toBe(true);
    expect(atRest({ broodC: stood }, half, half + hours(2))).toBe(true);
  });
});

describe('what a silence begins with', () => {
  it('is the last reading before it, and of all', () => {
    const broodC = every5(34, 34, ...none(4), 34, 34, ...none(2), 34);
    const weightG = every5(9000, 9000);
    expect(lastWordsMs({ broodC, weightG })).toEqual([5 * minute, 50 * minute]);
    expect(lastWordsMs({})).toEqual([]);
  });
});

describe('the next reading', () => {
  it('is that of any sensor, and none after the last', () => {
    const series = { broodC: every5(34, 34), outsideC: every5(10, NaN, NaN, 10) };
    expect(nextReadingMs(series, 0)).toBe(5 * minute);
    expect(nextReadingMs(series, 5 * minute)).toBe(15 * minute);
    expect(nextReadingMs(series, 15 * minute)).toBe(Infinity);
  });
});
