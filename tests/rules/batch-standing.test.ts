/** A nuc against its batch: the odd one out is found, the others are left alone, and few nucs make no band. */
import { describe, expect, it } from 'vitest';
import { batchStandings, type BatchMember } from '../../server/rules/batch-standing.ts';
import { signals } from './made-up.ts';

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
const member = (n: number, days: ReturnType<typeof broodDay>[]): BatchMember => ({
  nucId: `n${String(n)}`,
  signals: signals({ broodDays: days }),
});
const usual = (n: number) =>
  member(
    n,
    dates.map((date) => broodDay(date, 34 + n / 10)),
  );
const outside = (members: BatchMember[], nucId: string): number[] =>
  batchStandings('May', members)
    .get(nucId)!
    .measures.map(({ daysOutside }) => daysOutside);

describe('standing in a batch', () => {
  const six = [1, 2, 3, 4, 5, 6].map(usual);

  it('counts the days on which one is outside of the others’ band', () => {
    const cold = member(7, [
      broodDay('2026-05-01', 34.3),
      broodDay('2026-05-02', 31),
      broodDay('2026-05-03', 30.5),
    ]);
    expect(outside([...six, cold], 'n7')).toEqual([2, 0]);
    for (const { nucId } of six) expect(outside([...six, cold], nucId)).toEqual([0, 0]);
  });

  it('starts again when it was back inside', () => {
    const restless = member(7, [
      broodDay('2026-05-01', 34.3, 6),
      broodDay('2026-05-02', 34.3, 0.9),
      broodDay('2026-05-03', 34.3, 6),
    ]);
    expect(outside([...six, restless], 'n7')).toEqual([0, 1]);
  });

  it('leaves probes that differ by half a degree alone', () => {
    const same = [1, 2, 3, 4, 5].map((n) =>
      member(
        n,
        dates.map((date) => broodDay(date, 34.5)),
      ),
    );
    expect(
      outside(
        [
          ...same,
          member(
            6,
            dates.map((date) => broodDay(date, 35.1)),
          ),
        ],
        'n6',
      ),
    ).toEqual([0, 0]);
  });

  it('says nothing from fewer than four others, from half days, or from none', () => {
    expect(outside([1, 2, 3, 4].map(usual), 'n1')).toEqual([]);
    const half = member(
      7,
      dates.map((date) => broodDay(date, 20, 9, 0.3)),
    );
    expect(outside([...six, half], 'n7')).toEqual([]);
    expect(outside([...six, { nucId: 'n8', signals: null }], 'n8')).toEqual([]);
  });
});
