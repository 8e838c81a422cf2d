import { describe, expect, it } from 'vitest';
import { alignCohort } from '../../server/signals/cohort.ts';
import { dayBefore } from '../../server/signals/days.ts';
import { colonyFailing, regulation } from '../../server/signals/brood/regulation.ts';
import type { BroodDay, BroodRegime } from '../../server/signals/types.ts';
import { visitAt } from './made.ts';

const date = (n: number): string => `2025-06-${String(n).padStart(2, '0')}`;
const steady = (n: number): BroodDay => ({
  date: date(n),
  medianC: 34.6,
  minC: 33.9,
  maxC: 35.2,
  spreadC: 0.9,
  shareInBand: 1,
  coverage: 1,
});
const loose = (n: number): BroodDay => ({
  date: date(n),
  medianC: 29,
  minC: 25,
  maxC: 33,
  spreadC: 6,
  shareInBand: 0.1,
  coverage: 1,
});
const days = (from: number, to: number, of: (n: number) => BroodDay): BroodDay[] =>
  Array.from({ length: to - from + 1 }, (_, i) => of(from + i));
const always = (regime: BroodRegime) => () => regime;

describe('after release', () => {
  const state = (
    all: BroodDay[],
    released: string | null,
    today: number,
    regime: BroodRegime = 'new-brood-expected',
  ) => regulation(all, released, date(today), always(regime)).state;

  it('agrees when the nest is steady on three days that the old brood cannot explain', () => {
    const result = regulation(days(1, 12, steady), date(4), date(13), always('new-brood-expected'));
    expect(result).toMatchObject({ state: 'agreeing', daysSinceRelease: 9, steadySince: date(6) });
    expect(result.days.length).toBeGreaterThanOrEqual(3);
  });
  it('does not agree when none of them is steady', () =>
    expect(state(days(1, 12, loose), date(4), 13)).toBe('not-agreeing'));
  it('is too early in the first days, while old brood is left, and while it is only beginning', () => {
    expect(state(days(1, 7, steady), date(4), 8)).toBe('too-early');
    expect(state(days(1, 12, steady), date(4), 13, 'sealed-brood')).toBe('too-early');
    expect(state([...days(1, 10, loose), ...days(11, 12, steady)], date(4), 13)).toBe('too-early');
  });
  it('cannot tell before release and without a probe', () => {
    expect(state(days(1, 12, steady), null, 13)).toBe('cannot-tell');
    expect(state(days(1, 12, steady), date(14), 13)).toBe('cannot-tell');
    expect(state([], date(4), 13)).toBe('cannot-tell');
  });
  it('says nothing of her by a probe that lies elsewhere, nor by its days until a visit put it back', () => {
    const read = (all: BroodDay[], known: Parameters<typeof regulation>[4]) =>
      regulation(all, date(4), date(13), always('new-brood-expected'), known);
    expect(read(days(1, 12, loose), { notNest: 'it slipped' })).toMatchObject({
      state: 'cannot-tell',
      why: 'it slipped',
    });
    const twoDays = [...days(1, 10, loose), ...days(11, 12, steady)];
    expect(read(twoDays, { putBackOn: date(10) })).toMatchObject({
      state: 'too-early',
      days: days(11, 12, steady),
    });
    expect(read(days(1, 12, loose), { putBackOn: date(12) })).toMatchObject({
      state: 'cannot-tell',
      why: expect.stringContaining('put the probe back') as string,
    });
    // What it read since is the nest's, and counts.
    expect(read(days(1, 12, loose), { putBackOn: date(6) }).state).toBe('not-agreeing');
  });
  it('names no run where the newest day is loose', () => {
    expect(
      regulation([...days(1, 11, steady), loose(12)], date(4), date(13), always('new-brood-expected'))
        .steadySince,
    ).toBeNull();
  });
});

describe('a colony that fails', () => {
  const verdict = (
    all: BroodDay[],
    today: number,
    regime: BroodRegime = 'open-brood',
    jumps: Parameters<typeof colonyFailing>[3] = [],
  ) => colonyFailing(all, date(today), always(regime), jumps);
  const failing = [...days(1, 8, steady), ...days(9, 10, loose)];

  it('is found after two full days without regulation, and stays found', () => {
    expect(verdict(failing, 11)).toMatchObject({ state: 'failing', since: date(9) });
    expect(verdict([...failing, ...days(11, 20, loose)], 21)).toMatchObject({
      state: 'failing',
      since: date(9),
    });
    expect(verdict(failing.slice(0, 9), 10)).toMatchObject({ state: 'no' });
  });
  it('is not a silent sensor, a day hardly covered, or a nest that never was steady', () => {
    expect(verdict(failing, 20)).toMatchObject({
      state: 'cannot-tell',
      why: expect.stringContaining('silent sensor') as string,
    });
    expect(verdict([], 20)).toMatchObject({ state: 'cannot-tell' });
    expect(verdict(days(1, 10, loose), 11)).toMatchObject({ state: 'cannot-tell' });
    expect(
      verdict([...days(1, 8, steady), ...days(9, 10, (n) => ({ ...loose(n), coverage: 0.2 }))], 10).state,
    ).toBe('no');
  });
  it('is not a probe that moved at a visit, a gap before it, or a stage without brood', () => {
    const jump = { atMs: 0, date: date(9), fromC: 34.6, toC: 29, explainedBy: visitAt(0) };
    expect(verdict(failing, 11, 'open-brood', [jump])).toMatchObject({
      state: 'cannot-tell',
      why: expect.stringContaining('probe moved') as string,
    });
    expect(verdict([...days(1, 4, steady), ...days(9, 10, loose)], 11)).toMatchObject({
      why: expect.stringContaining('broke off') as string,
    });
    expect(verdict(failing, 11, 'broodless').state).toBe('no');
  });
  it('is not ended by a hot day, only by a regulated one', () => {
    const hot = (n: number): BroodDay => ({
      ...loose(n),
      medianC: 34.4,
      minC: 32,
      maxC: 39,
      spreadC: 4.5,
      shareInBand: 0.4,
    });
    const after = [...failing, hot(11)];
    expect(verdict(after, 12)).toMatchObject({ state: 'failing', since: date(9) });
    // In band on average for a warm day, and yet it swings: not ended either. Just under both limits: ended.
    const edge = (spreadC: number, shareInBand: number): BroodDay => ({ ...hot(12), spreadC, shareInBand });
    expect(verdict([...after, edge(2.5, 0.6)], 13).state).toBe('failing');
    expect(verdict([...after, edge(2.4, 0.59)], 13).state).toBe('failing');
    expect(verdict([...after, edge(2.4, 0.6)], 13).state).toBe('no');
  });
  it('is not a probe that a visit put back among the brood: its days before that are of another place', () => {
    const putBack = (today: number, on: number, all = failing) =>
      colonyFailing(all, date(today), always('open-brood'), [], { putBackOn: date(on) });
    expect(putBack(11, 11)).toMatchObject({
      state: 'cannot-tell',
      why: expect.stringContaining('put the probe back') as string,
    });
    // What begins after that visit is the nest's.
    expect(putBack(11, 8).state).toBe('failing');
    expect(putBack(11, 9).state).toBe('cannot-tell');
  });
  it('is not excused by a visit at which the probe read warmer', () => {
    const jump = { atMs: 0, date: date(9), fromC: 29, toC: 34.6, explainedBy: visitAt(0) };
    expect(verdict(failing, 11, 'open-brood', [jump]).state).toBe('failing');
  });
  it('is also a nest that sinks without swinging', () => {
    const sunk = (n: number): BroodDay => ({ ...steady(n), medianC: 30, minC: 29.5, shareInBand: 0 });
    expect(verdict([...days(1, 8, steady), ...days(9, 10, sunk)], 11).state).toBe('failing');
  });
});

describe('a batch', () => {
  const member = (id: string, offset: number, zero = date(1)) => ({
    id,
    dayZero: zero,
    values: Array.from({ length: 6 }, (_, i) => ({
      date: date(Number(zero.slice(8)) + i),
      value: 100 - 10 * i + offset,
    })),
  });
  const batch = [0, 1, 2, 3, 4, 5, 6].map((k) => member(`nuc ${String(k)}`, k, date(1 + k)));

  it('is aligned on its day, whatever the date', () => {
    const { band } = alignCohort(batch);
    expect(band.map((b) => b.day)).toEqual([0, 1, 2, 3, 4, 5]);
    expect(band[2]).toMatchObject({ median: 83, members: 7 });
  });
  it('names who is outside its band, and since when', () => {
    const strayed = {
      ...member('stray', 3),
      values: member('stray', 3).values.map((v, i) => ({ ...v, value: v.value - (i >= 3 ? 60 : 0) })),
    };
    const { outsiders } = alignCohort([...batch, ...batch.map((m) => ({ ...m, id: `${m.id}b` })), strayed]);
    expect(outsiders).toMatchObject([{ id: 'stray', sinceDay: 3, side: 'under' }]);
  });
  it('says nothing of a batch too small, of one day outside, or of what is not a number', () => {
    expect(alignCohort(batch.slice(0, 3))).toMatchObject({ band: [], outsiders: [] });
    const once = {
      ...member('once', 3),
      values: member('once', 3).values.map((v, i) => ({ ...v, value: v.value + (i === 5 ? 90 : 0) })),
    };
    expect(alignCohort([...batch, ...batch, once]).outsiders).toEqual([]);
    const broken = { id: 'broken', dayZero: date(1), values: [{ date: date(1), value: NaN }] };
    expect(alignCohort([...batch, broken]).band[0]?.members).toBe(7);
  });
  it('keeps calendar days over the clock change', () => expect(dayBefore('2025-03-31')).toBe('2025-03-30'));
});
