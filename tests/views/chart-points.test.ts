import fc from 'fast-check';
import { expect, it } from 'vitest';
import { pointsOf } from '../../server/views/nuc/chart-series.ts';

const value = fc.oneof(fc.double({ min: -1000, max: 1000, noNaN: true }), fc.integer({ min: -20, max: 20 }));
const row = fc.record({
  atMs: fc.double({ min: 0, max: 4e12, noNaN: true }),
  mean: fc.oneof({ weight: 9, arbitrary: value }, { weight: 1, arbitrary: fc.constant(NaN) }),
  min: value,
  max: value,
});
interface Row {
  readonly atMs: number;
  readonly mean: number;
  readonly min: number;
  readonly max: number;
}

const columnsOf = (rows: readonly Row[], kind: 'points' | 'buckets') => {
  const column = (of: (one: Row) => number) => Float64Array.from(rows, of);
  return {
    kind,
    bucketMs: 0,
    atMs: column(({ atMs }) => atMs),
    mean: column(({ mean }) => mean),
    min: column(({ min }) => min),
    max: column(({ max }) => max),
  };
};

it('gives a value, or a mean with lowest and highest, to the decimals that are shown; a gap is null', () => {
  fc.assert(
    fc.property(
      fc.array(row, { maxLength: 50 }),
      fc.constantFrom('points', 'buckets'),
      fc.integer({ min: 2, max: 3 }),
      (rows, kind, digits) => {
        const points = pointsOf(columnsOf(rows, kind), digits);
        expect(points).toHaveLength(rows.length);
        for (const [i, { atMs, mean, min, max }] of rows.entries()) {
          const [at, ...values] = points[i] ?? [];
          expect(Math.abs((at ?? NaN) - atMs)).toBeLessThanOrEqual(0.5);
          if (Number.isNaN(mean)) expect(values).toEqual([null]);
          else {
            expect(values).toHaveLength(kind === 'points' ? 1 : 3);
            for (const [k, shown] of values.entries()) {
              expect(Math.abs((shown ?? NaN) - ([mean, min, max][k] ?? NaN))).toBeLessThan(
                0.501 / 10 ** digits,
              );
              expect(Number((shown ?? NaN).toFixed(digits)) === shown).toBe(true);
            }
          }
        }
      },
    ),
  );
});
