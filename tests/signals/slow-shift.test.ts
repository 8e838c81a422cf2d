import { describe, expect, it } from 'vitest';
import { slowShift } from '../../server/signals/brood/slow-shift.ts';
import type { BroodDay } from '../../server/signals/types.ts';
import { inWords, type Sentence } from '../../server/words/phrase.ts';

const words = (sentence: Sentence): string =>
  inWords(sentence, { timeZone: 'UTC', temperature: 'C', weight: 'kg' });

const date = (k: number): string => new Date(Date.UTC(2025, 5, 1 + k)).toISOString().slice(0, 10);
const dayOf = (medianC: number, k: number, coverage = 1): BroodDay => ({
  date: date(k),
  medianC,
  minC: medianC - 1,
  maxC: medianC + 1,
  spreadC: 0.8,
  shareInBand: 0.9,
  coverage,
});
/** `of(day)` °C, with a ripple of a tenth of a degree. */
const days = (n: number, of: (k: number) => number): BroodDay[] =>
  Array.from({ length: n }, (_, k) => dayOf(of(k) + 0.1 * Math.sin(k * 2.4), k));
const from = date(0);

describe('a slow shift of the brood nest', () => {
  it('is seen in a week where it is one degree, with the day it began', () => {
    const sunk = (n: number) =>
      slowShift(
        days(n, (k) => (k < 12 ? 35 : 33.8)),
        from,
      );
    expect(sunk(12).state).toBe('level');
    expect(sunk(19)).toMatchObject({ state: 'sinking', since: date(12) });
    expect(
      slowShift(
        days(19, (k) => (k < 12 ? 34 : 35.2)),
        from,
      ),
    ).toMatchObject({
      state: 'rising',
      since: date(12),
    });
  });
  it('is not half a degree, one bad day, nor one that is over', () => {
    expect(
      slowShift(
        days(25, (k) => (k < 12 ? 35 : 34.6)),
        from,
      ).state,
    ).toBe('level');
    expect(
      slowShift(
        days(25, (k) => (k === 15 ? 32.6 : 35)),
        from,
      ).state,
    ).toBe('level');
    expect(
      slowShift(
        days(30, (k) => (k > 12 && k < 20 ? 33 : 35)),
        from,
      ).state,
    ).toBe('level');
  });
  it('says whether it goes on', () => {
    const sinking = slowShift(
      days(20, (k) => 35 - 0.15 * Math.max(0, k - 7)),
      from,
    );
    expect(words(sinking.why)).toMatch(/moving by −1\.[01] °C a week/);
    const settled = slowShift(
      days(40, (k) => (k < 12 ? 35 : 33.5)),
      from,
    );
    expect(words(settled.why)).toContain('stayed there');
  });
  it('is not told before ten days with the probe in one place, nor of one that lay outside of the brood', () => {
    const moved = days(25, (k) => (k < 12 ? 35 : 33.5));
    expect(slowShift(moved, date(18)).state).toBe('cannot-tell');
    expect(slowShift(moved, date(12)).state).toBe('level');
    expect(
      slowShift(
        days(25, (k) => (k < 12 ? 29 : 34.5)),
        from,
      ).state,
    ).toBe('cannot-tell');
    const thin = moved.map((day) => ({ ...day, coverage: 0.2 }));
    expect(slowShift(thin, from).state).toBe('cannot-tell');
  });
});
