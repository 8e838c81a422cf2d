/** The rng: known answers, and distributions by their closed-form mean and variance. */
import { describe, expect, it } from 'vitest';
import { rngFor, wander } from '../../simulator/random.ts';

const draw = (n: number, next: () => number) => Array.from({ length: n }, next);
const mean = (values: readonly number[]) => values.reduce((a, b) => a + b, 0) / values.length;
const variance = (values: readonly number[]) => {
  const m = mean(values);
  return values.reduce((sum, v) => sum + (v - m) ** 2, 0) / (values.length - 1);
};

describe('seeds', () => {
  it('give the same numbers again, and other streams give others', () => {
    const first = draw(20, rngFor(42, 'weather').uniform);
    expect(draw(20, rngFor(42, 'weather').uniform)).toEqual(first);
    expect(draw(20, rngFor(42, 'scale').uniform)).not.toEqual(first);
    expect(draw(20, rngFor(43, 'weather').uniform)).not.toEqual(first);
  });

  it('never change from one version to the next (values kept from the first run)', () => {
    expect(draw(3, rngFor(1, 'kept').uniform)).toEqual([
      0.8609909871593118, 0.9698371789418161, 0.6286835314240307,
    ]);
  });
});

// Bounds are five standard errors of the closed form, so that a right generator passes for all but one seed in a million.
describe('distributions', () => {
  const n = 40_000;
  const within5SE = (got: number, want: number, sd: number) =>
    expect(Math.abs(got - want)).toBeLessThan((5 * sd) / Math.sqrt(n));

  it('uniform and normal', () => {
    const rng = rngFor(7);
    within5SE(mean(draw(n, rng.uniform)), 0.5, Math.sqrt(1 / 12));
    const normals = draw(n, rng.normal);
    within5SE(mean(normals), 0, 1);
    within5SE(variance(normals), 1, Math.SQRT2);
  });

  it.each([
    [10, 0.3],
    [400, 0.004],
    [400, 0.97],
    [1500, 0.4],
  ])('binomial of %d at %d', (count, p) => {
    const drawn = draw(n, () => diceShared.binomial(count, p));
    const sd = Math.sqrt(count * p * (1 - p));
    within5SE(mean(drawn), count * p, sd);
    expect(variance(drawn) / sd ** 2).toBeGreaterThan(0.95);
    expect(variance(drawn) / sd ** 2).toBeLessThan(1.05);
    expect(drawn.every((k) => Number.isInteger(k) && k >= 0 && k <= count)).toBe(true);
  });

  it.each([0.05, 4, 80])('poisson of mean %d', (wanted) => {
    const drawn = draw(n, () => diceShared.poisson(wanted));
    within5SE(mean(drawn), wanted, Math.sqrt(wanted));
  });

  it('a wandering series has its standard deviation and forgets in its time', () => {
    const next = wander(rngFor(3), 2, 50);
    const values = draw(400_000, next);
    expect(Math.sqrt(variance(values))).toBeCloseTo(2, 1);
    const lagged = mean(values.slice(50).map((v, i) => v * values[i]!)) / variance(values);
    // 400,000 minutes hold some 4,000 independent pieces: 1/e to within 0.08 is five standard errors.
    expect(Math.abs(lagged - Math.exp(-1))).toBeLessThan(0.08);
  });
});

const diceShared = rngFor(99, 'shared');
