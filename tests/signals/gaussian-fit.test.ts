/** The fit against the definition: the evidence is the density of y ~ N(X m, C + X S Xᵀ), the weights the conditional normal's. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { posterior, productsOf } from '../../server/signals/statistics/gaussian-fit.ts';
import { backward, cholesky, dotOf, forward } from '../../server/signals/statistics/linear.ts';

const rows = 9;
const value = fc.double({ min: -3, max: 3, noNaN: true });
const column = fc.array(value, { minLength: rows, maxLength: rows }).map((list) => Float64Array.from(list));

const fits = fc.record({
  columns: fc.array(column, { minLength: 4, maxLength: 4 }),
  target: column,
  noise: fc.array(fc.double({ min: 0.2, max: 2, noNaN: true }), { minLength: rows, maxLength: rows }),
  together: fc.double({ min: 0, max: 0.8, noNaN: true }),
  mean: fc.tuple(value, value, value).map((list) => Float64Array.from(list)),
  sd: fc.constant(Float64Array.of(0.5, 2, 30)),
});

/** C of rows that go together by their distance. */
const covariance = (noise: readonly number[], together: number): Float64Array =>
  Float64Array.from({ length: rows * rows }, (_, at) => {
    const [i, j] = [Math.floor(at / rows), at % rows];
    return (noise[i] as number) * (noise[j] as number) * (i === j ? 1 : together ** Math.abs(i - j));
  });

describe('a fit with priors', () => {
  it('has the evidence and the weights of the normal that it stands for, on the columns that were chosen', () => {
    fc.assert(
      fc.property(fits, ({ columns, target, noise, together, mean, sd }) => {
        const chosen = [3, 0, 2];
        const c = covariance(noise, together);
        const lower = c.slice();
        expect(cholesky(lower, rows)).toBe(true);
        const fit = posterior(productsOf(columns, target, lower), chosen, { mean, sd });
        if (!fit) throw new Error('no fit');
        const x = chosen.map((which) => columns[which] as Float64Array);
        const whole = c.map((v, at) => {
          const [i, j] = [Math.floor(at / rows), at % rows];
          return x.reduce(
            (sum, one, k) => sum + (one[i] as number) * (one[j] as number) * (sd[k] as number) ** 2,
            v,
          );
        });
        expect(cholesky(whole, rows)).toBe(true);
        const off = target.map((y, i) =>
          x.reduce((sum, one, k) => sum - (one[i] as number) * (mean[k] as number), y),
        );
        forward(whole, rows, off);
        let logDet = 0;
        for (let i = 0; i < rows; i++) logDet += 2 * Math.log(whole[i * rows + i] as number);
        const evidence = -0.5 * (dotOf(off, 0, off, 0, rows) + logDet);
        expect(Math.abs(fit.logEvidence - evidence)).toBeLessThan(1e-7 * (1 + Math.abs(evidence)));
        expect(Math.abs(fit.misfit - dotOf(off, 0, off, 0, rows))).toBeLessThan(
          1e-6 * (1 + Math.abs(fit.misfit)),
        );
        backward(whole, rows, off);
        x.forEach((one, k) => {
          const told = (mean[k] as number) + (sd[k] as number) ** 2 * dotOf(one, 0, off, 0, rows);
          expect(Math.abs((fit.mean[k] as number) - told)).toBeLessThan(1e-6 * (1 + Math.abs(told)));
          const seen = one.slice();
          forward(whole, rows, seen);
          const left = (sd[k] as number) ** 2 - (sd[k] as number) ** 4 * dotOf(seen, 0, seen, 0, rows);
          expect(Math.abs((fit.covariance()[k * x.length + k] as number) - left)).toBeLessThan(
            1e-6 * (sd[k] as number) ** 2,
          );
        });
      }),
    );
  });
});
