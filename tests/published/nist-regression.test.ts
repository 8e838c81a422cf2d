/**
 * NIST Statistical Reference Datasets, linear regression: Norris (36 observations) and NoInt1 (11, no intercept), with
 * the certified values of https://www.itl.nist.gov/div898/strd/, seen quoted in the tests of several general
 * statistics packages that agree on every digit. Estimates and their standard errors within 1e-10 of their size.
 */
import { expect, it } from 'vitest';
import { leastSquares } from '../../server/signals/statistics/linear.ts';

const norrisX = [
  0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777, 558.2, 0.4, 0.6, 775.5, 666.9, 338, 447.5,
  11.6, 556, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999, 779, 11.1, 118.3, 229.2, 669.1,
  448.9, 0.5,
];
const norrisY = [
  0.1, 338.8, 118.1, 888, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8, 339.3, 448.9,
  10.8, 557.7, 228.3, 998, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888, 998.5, 778.9, 10.2, 117.6, 228.9, 668.4,
  449.2, 0.2,
];
const noIntX = Array.from({ length: 11 }, (_, i) => 60 + i);
const noIntY = noIntX.map((x) => x + 70);

/** Estimates, their standard errors and the residual standard deviation. */
function regression(rows: readonly (readonly number[])[], y: readonly number[]) {
  const p = rows[0]!.length;
  const fit = leastSquares(
    Float64Array.from(rows.flat()),
    Float64Array.from(y),
    new Float64Array(y.length).fill(1),
    p,
  )!;
  const squares = y.reduce(
    (sum, value, i) => sum + (value - rows[i]!.reduce((at, x, k) => at + x * fit.beta[k]!, 0)) ** 2,
    0,
  );
  const variance = squares / (y.length - p);
  return {
    beta: [...fit.beta],
    errors: Array.from({ length: p }, (_, k) => Math.sqrt(variance * fit.inverse[k * p + k]!)),
    residualSd: Math.sqrt(variance),
  };
}

it.each([
  {
    name: 'Norris',
    rows: norrisX.map((x) => [1, x]),
    y: norrisY,
    beta: [-0.262323073774029, 1.00211681802045],
    errors: [0.232818234301152, 0.000429796848199937],
    residualSd: 0.884796396144373,
  },
  {
    name: 'NoInt1',
    rows: noIntX.map((x) => [x]),
    y: noIntY,
    beta: [2.07438016528926],
    errors: [0.0165289256198347],
    residualSd: 3.56753034006338,
  },
])('$name', ({ rows, y, ...certified }) => {
  const { beta, errors, residualSd } = regression(rows, y);
  const off = (values: readonly number[], wanted: readonly number[]): number =>
    Math.max(...wanted.map((value, k) => Math.abs(values[k]! / value - 1)));
  expect(off(beta, certified.beta)).toBeLessThan(1e-10);
  expect(off(errors, certified.errors)).toBeLessThan(1e-10);
  expect(off([residualSd], [certified.residualSd])).toBeLessThan(1e-10);
});
