import fc from 'fast-check';
import { expect, it } from 'vitest';
import { JsonBytes } from '../../server/views/json-bytes.ts';
import { putPoints } from '../../server/views/points-json.ts';
import { rounded } from '../../server/views/rounded.ts';

const columns = (
  rows: readonly (readonly [number, number, number, number])[],
  kind: 'points' | 'buckets',
) => {
  const column = (i: 0 | 1 | 2 | 3) => Float64Array.from(rows, (row) => row[i]);
  return { kind, bucketMs: 0, atMs: column(0), mean: column(1), min: column(2), max: column(3) };
};
const value = fc.oneof(
  fc.double({ min: -1000, max: 1000, noNaN: true }),
  fc.integer({ min: -20, max: 20 }),
  fc.double({ noNaN: true, noDefaultInfinity: true }),
);
const row = fc.tuple(
  fc.oneof(fc.integer({ min: 0, max: 4e12 }), fc.double({ min: 0, max: 4e12, noNaN: true })),
  fc.oneof({ weight: 9, arbitrary: value }, { weight: 1, arbitrary: fc.constant(NaN) }),
  value,
  value,
);

it('writes what the engine writes of rounded numbers', () => {
  fc.assert(
    fc.property(
      fc.array(row, { maxLength: 300 }),
      fc.constantFrom('points', 'buckets'),
      fc.integer({ min: 2, max: 3 }),
      (rows, kind, digits) => {
        const of = (one: number) => rounded(one, digits);
        const expected = rows.map(([at, mean, low, high]) => {
          if (Number.isNaN(mean)) return [at, null];
          return kind === 'points' ? [at, of(mean)] : [Math.round(at), of(mean), of(low), of(high)];
        });
        const into = new JsonBytes();
        into.text('[');
        putPoints(into, columns(rows, kind), digits);
        into.close();
        expect(new TextDecoder().decode(into.finish())).toBe(JSON.stringify(expected));
      },
    ),
    { numRuns: 300 },
  );
});
