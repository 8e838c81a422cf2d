/**
 * What two searches leave behind. Worked examples: Seber, The Estimation of Animal Abundance, example 7.4 (79, then 28:
 * N 122, standard error 8.8, share found 0.65) and Cowx 1983, Fisheries Management 14:67, p. 75 (72, then 56: N 324,
 * standard error 178.19, share 0.22), both seen quoted in the tests of a general fisheries-statistics package (FSA).
 */
import { describe, expect, it } from 'vitest';
import { missEvidence, missRateFrom, standingCells } from '../../server/introduction/cells/standing-cells.ts';
import { twoPassRemoval } from './two-pass-removal.ts';

it.each([
  {
    source: 'Seber, example 7.4',
    first: 79,
    second: 28,
    population: 122,
    standardError: 8.8,
    digits: 1,
    foundShare: 0.65,
  },
  {
    source: 'Cowx 1983, p. 75',
    first: 72,
    second: 56,
    population: 324,
    standardError: 178.19,
    digits: 2,
    foundShare: 0.22,
  },
])('$source', ({ first, second, population, standardError, digits, foundShare }) => {
  const estimate = twoPassRemoval(first, second);
  if (!estimate.ok) throw new Error(estimate.why);
  // Printed to whole animals, the digits of the standard error, and hundredths.
  expect(Math.round(estimate.population)).toBe(population);
  expect(Number(estimate.standardError.toFixed(digits))).toBe(standardError);
  expect(Number(estimate.foundShare.toFixed(2))).toBe(foundShare);
});

describe('the posterior of missed cells, where two-pass removal’s conditions hold', () => {
  const day = 86_400_000;
  /** Looks an hour apart on day 5: nothing is started, torn down or emerges between them. */
  const closed = (first: number, second: number) => ({
    waves: [{ fromMs: 0, after: 'loss' as const, eggMs: 0, weight: 1 }],
    looks: [
      { atMs: 5 * day, cells: first, emerged: 0 },
      { atMs: 5 * day + 3_600_000, cells: second, emerged: 0 },
    ],
    missRate: { alpha: 1, beta: 1 },
  });

  it.each([
    [79, 28],
    [60, 20],
    [120, 12],
  ])('finds the same share of %i and %i cells', (first, second) => {
    const estimate = twoPassRemoval(first, second);
    if (!estimate.ok) throw new Error(estimate.why);
    const { missShare } = standingCells(closed(first, second));
    // One standard error of the share, √(c2 (c1 + c2) / c1³): the flat prior and the grid move it less.
    const tolerance = Math.sqrt((second * (first + second)) / first ** 3);
    expect(Math.abs(missShare - (1 - estimate.foundShare))).toBeLessThan(tolerance);
  });

  it('keeps the learnt share and its spread as a beta', () => {
    const learnt = missRateFrom(closed(79, 28).missRate, [missEvidence(closed(79, 28))]);
    const mean = learnt.alpha / (learnt.alpha + learnt.beta);
    expect(mean).toBeCloseTo(standingCells(closed(79, 28)).missShare, 6);
    // The standard error of the share found, 0.078, is about the spread of the beta.
    const spread = Math.sqrt((mean * (1 - mean)) / (learnt.alpha + learnt.beta + 1));
    expect(spread).toBeGreaterThan(0.04);
    expect(spread).toBeLessThan(0.12);
  });
});
