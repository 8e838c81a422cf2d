/** A nuc against its batch: the odd one out is found, the others are left alone, and few nucs make no band. */
import { describe, expect, it } from 'vitest';
import { batchStandings, type BatchMember } from '../../server/rules/catalogue/queen/batch-standing.ts';

const broodDay = (date: string, medianC: number, spreadC = 0.8, coverage = 1) => ({
  date,
  medianC,
  minC: medianC - 1,
  maxC: medianC + 1,
  spreadC,
  shareInBand: 1,
  coverage,
});
const dates = ['2026-05-01', '2026-05-02', '2026-05-03'];
const member = (n: number, days: ReturnType<typeof broodDay>[], dayZero = '2026-04-28'): BatchMember => ({
  nucId: `n${String(n)}`,
  dayZero,
  broodDays: days,
  today: '2026-05-04',
});
const usual = (n: number) =>
  member(
    n,
    dates.map((date) => broodDay(date, 34 + n / 10)),
  );
const standing = (members: BatchMember[], nucId: string) =>
  batchStandings('May', members).get(nucId)!.measures;
const outside = (members: BatchMember[], nucId: string): number[] =>
  standing(members, nucId).map(({ daysOutside }) => daysOutside);

describe('standing in a batch', () => {
  const nine = [1, 2, 3, 4, 5, 6, 7, 8, 9].map(usual);
  const cold = member(10, [
    broodDay('2026-05-01', 34.3),
    broodDay('2026-05-02', 31),
    broodDay('2026-05-03', 30.5),
  ]);

  it('counts the days on which one is outside of the band', () => {
    expect(outside([...nine, cold], 'n10')).toEqual([2, 0]);
    for (const { nucId } of nine) expect(outside([...nine, cold], nucId)).toEqual([0, 0]);
    expect(standing([...nine, cold], 'n10')[0]).toMatchObject({ value: 30.5, unit: '°C' });
  });

  it('counts no day that is not over, so that a cold morning is not set beside whole days', () => {
    // The others were split the day before, and were as far yesterday, over the whole day.
    const others = nine.map((one) => ({ ...one, dayZero: '2026-04-27' }));
    const tenth = member(10, [
      broodDay('2026-05-02', 34.5),
      broodDay('2026-05-03', 30.5),
      broodDay('2026-05-04', 30.1, 0.8, 0.6),
    ]);
    expect(outside([...others, tenth], 'n10')).toEqual([0, 0]);
    expect(outside([...others, { ...tenth, today: '2026-05-05' }], 'n10')).toEqual([2, 0]);
  });

  it('leaves alone whom only his probe tells apart', () => {
    const same = [1, 2, 3, 4, 5, 6, 7, 8, 9].map((n) =>
      member(
        n,
        dates.map((date) => broodDay(date, 34.5)),
      ),
    );
    const odd = (medianC: number) => [
      ...same,
      member(
        10,
        dates.map((date) => broodDay(date, medianC)),
      ),
    ];
    expect(outside(odd(35.1), 'n10')).toEqual([0, 0]);
    expect(outside(odd(35.3), 'n10')).toEqual([3, 0]);
  });

  it('goes by the day of the introduction, not by the date', () => {
    const later = member(
      10,
      ['2026-06-01', '2026-06-02', '2026-06-03'].map((date) => broodDay(date, 30)),
      '2026-05-29',
    );
    expect(outside([...nine, { ...later, today: '2026-06-04' }], 'n10')).toEqual([3, 0]);
  });

  it('says nothing from too few, from half days, or from none', () => {
    expect(outside([1, 2, 3, 4].map(usual), 'n1')).toEqual([]);
    const half = member(
      10,
      dates.map((date) => broodDay(date, 20, 9, 0.3)),
    );
    expect(outside([...nine, half], 'n10')).toEqual([]);
    expect(outside([...nine, member(11, [])], 'n11')).toEqual([]);
  });
});
