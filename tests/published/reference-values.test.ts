/**
 * Statistics against values that other programs gave, recorded here: SciPy 1.17.1 (normal and beta quantiles, Fisher,
 * Kendall's variance, Theil-Sen), statsmodels 0.15.0 (Wilson, Huber), mpmath 1.3.0 at 40 digits (Mann-Kendall's z and p
 * from that variance, with continuity). The tolerance stands beside each.
 */
import { describe, expect, it } from 'vitest';
import { missedCellShare } from '../../server/biology/figures.ts';
import { widePrior } from '../../server/introduction/cells/standing-cells.ts';
import { fisherExact } from '../../server/signals/statistics/fisher.ts';
import { wilson } from '../../server/signals/statistics/intervals.ts';
import { mixtureBelow, mixtureQuantile, normalBelow } from '../../server/signals/statistics/mixture.ts';
import { robustLine } from '../../server/signals/statistics/robust.ts';
import { mannKendall, senSlope } from '../../server/signals/statistics/trend.ts';

/** Largest distance that is still right, beside the value. */
const near = (value: number, wanted: number, tolerance: number): void => {
  expect(Math.abs(value - wanted), `${String(value)} for ${String(wanted)}`).toBeLessThanOrEqual(tolerance);
};

describe('the normal distribution (scipy.stats.norm)', () => {
  it.each([
    [-4, 3.167124183311986e-5],
    [-2.5, 0.006209665325776132],
    [-1, 0.15865525393145707],
    [-0.3, 0.3820885778110474],
    [0, 0.5],
    [0.7, 0.758036347776927],
    [1.5, 0.9331927987311419],
    [3, 0.9986501019683699],
    // The error function in use states a relative error under 1.2e-7.
  ])('cdf of %d within 1e-7', (z, share) => near(normalBelow(z), share, 1e-7));

  it.each([
    [0.001, -3.090232306167813],
    [0.025, -1.9599639845400545],
    [0.05, -1.6448536269514729],
    [0.25, -0.6744897501960817],
    [0.5, 0],
    [0.9, 1.2815515655446004],
    [0.975, 1.959963984540054],
    [0.999, 3.090232306167813],
    // 1e-7 of the chance, divided by the density at ±3.09 (0.0034).
  ])('quantile of %d within 3e-5', (p, z) =>
    near(mixtureQuantile([{ weight: 1, mean: 0, sd: 1 }], p), z, 3e-5),
  );

  it('carries over to a mixture: half below 2, half above, of N(0, 1) and N(4, 1)', () => {
    const parts = [0, 4].map((mean) => ({ weight: 0.5, mean, sd: 1 }));
    near(mixtureBelow(parts, 2), 0.5, 1e-7);
    near(mixtureQuantile(parts, 0.5), 2, 1e-5);
  });
});

describe('the prior of missed cells, Beta(1, 10.11) (scipy.stats.beta)', () => {
  it('has its 95 % quantile, 0.2564, at the high end of the figure, to two digits', () => {
    expect(widePrior.alpha).toBe(1);
    near(widePrior.beta, 10.11111111111111, 1e-12);
    near(missedCellShare.high!, 0.2564217059123474, 0.005);
  });
});

describe('Wilson’s interval (statsmodels proportion_confint)', () => {
  it.each([
    { hits: 0, n: 10, low: 0, high: 0.27753279986288926 },
    { hits: 1, n: 7, low: 0.02567962434474355, high: 0.5131278292743189 },
    { hits: 3, n: 8, low: 0.13684428582359737, high: 0.6942576053973728 },
    { hits: 17, n: 40, low: 0.28509392559950375, high: 0.5780493145800893 },
    { hits: 9, n: 9, low: 0.7008549515804557, high: 1 },
    { hits: 81, n: 263, low: 0.2552885198782742, high: 0.36620957698280004 },
  ])('$hits of $n within 1e-12', ({ hits, n, low, high }) => {
    const interval = wilson(hits, n);
    near(interval.low, low, 1e-12);
    near(interval.high, high, 1e-12);
  });
});

describe('Fisher’s exact test (scipy.stats.fisher_exact)', () => {
  it.each([
    { a: 3, b: 1, c: 1, d: 3, oneSided: 0.24285714285714283, twoSided: 0.48571428571428565 },
    { a: 8, b: 2, c: 1, d: 5, oneSided: 0.024475524475524483, twoSided: 0.034965034965034975 },
    { a: 12, b: 5, c: 29, d: 2, oneSided: 0.9945252060218822, twoSided: 0.08026855207410463 },
    { a: 0, b: 9, c: 7, d: 3, oneSided: 1, twoSided: 0.0030959752321981426 },
    { a: 20, b: 30, c: 15, d: 60, oneSided: 0.013045315323411332, twoSided: 0.024462907964030875 },
  ])('$a $b / $c $d within 1e-9', ({ oneSided, twoSided, ...table }) => {
    const p = fisherExact(table);
    near(p.oneSided, oneSided, 1e-9);
    near(p.twoSided, twoSided, 1e-9);
  });
});

describe('Mann-Kendall with ties, and Theil-Sen', () => {
  it.each([
    {
      values: [5, 3, 8, 8, 6, 9, 12, 7, 12, 12, 15],
      s: 37,
      variance: 160.33333333333334,
      z: 2.84308988306034,
      p: 0.0044678468479909,
      slope: 1,
    },
    {
      values: [21.5, 21.1, 21.1, 20.4, 19.8, 20.4, 19.1, 18.7, 19, 18.2, 18.2, 17.5],
      s: -59,
      variance: 209.66666666666657,
      z: -4.00556052299034,
      p: 6.18705888881543e-5,
      slope: -0.3625,
    },
    {
      values: [3, 1, 4, 1, 5, 9, 2, 6, 5, 3, 5, 8, 9, 7, 9],
      s: 55,
      variance: 399,
      z: 2.7033813413375,
      p: 0.00686379498544904,
      slope: 0.4444444444444444,
    },
  ])('S $s: variance within 1e-9, z within 1e-9, p within 1e-7', ({ values, slope, ...wanted }) => {
    const test = mannKendall(values);
    expect(test.s).toBe(wanted.s);
    near(test.variance, wanted.variance, 1e-9);
    near(test.z, wanted.z, 1e-9);
    near(test.p, wanted.p, 1e-7);
    near(senSlope(values), slope, 1e-12);
  });
});

describe('Huber’s line (statsmodels RLM, HuberT(1.345), scale by the median absolute deviation)', () => {
  const airflow = [80, 80, 75, 62, 62, 62, 62, 62, 58, 58, 58, 58, 58, 58, 50, 50, 50, 50, 50, 56, 70];
  const loss = [42, 37, 37, 28, 18, 18, 19, 20, 15, 14, 14, 13, 11, 12, 8, 7, 8, 8, 9, 15, 15];

  it('through Brownlee’s stack loss on air flow: slope, intercept and spread within 1e-4 of their size', () => {
    // Both iterate: here to a change of 1e-6 of the spread, there to 1e-12.
    const line = robustLine(airflow, loss)!;
    near(line.slope, 1.0372092275710465, 1e-4);
    near(line.intercept, -45.01487940510177, 45e-4);
    near(line.residualSd, 1.9156595099146914, 2e-4);
  });
});
