/**
 * NIST/SEMATECH e-Handbook of Statistical Methods 6.3.2.3 (CUSUM), 6.3.2.4 (EWMA), 1.3.5.17.1 (uranium outlier);
 * Mann-Kendall and Sen on the annual flow of the Nile 1871-1970 as in R's datasets and statsmodels, values worked out
 * with scipy; Wilson intervals of Newcombe 1998, Stat Med 17:857; Fisher's tea; running mean of Meikle et al. 2005.
 */
import { describe, expect, it } from 'vitest';
import { cusum, ewma, ewmaLimits } from '../../server/signals/statistics/control-charts.ts';
import { fisherExact } from '../../server/signals/statistics/fisher.ts';
import { wilson } from '../../server/signals/statistics/intervals.ts';
import { madToSd, median, robustSd } from '../../server/signals/statistics/robust.ts';
import { mannKendall, senSlope } from '../../server/signals/statistics/trend.ts';

describe('CUSUM, NIST/SEMATECH 6.3.2.3', () => {
  const groups = [
    324.925, 324.675, 324.725, 324.35, 325.35, 325.225, 324.125, 324.525, 325.225, 324.6, 324.625, 325.15,
    328.325, 327.25, 327.825, 328.5, 326.675, 327.775, 326.875, 328.35,
  ];
  const chart = cusum(groups, 325, 0.3175, 4.1959);
  it('gives the handbook’s upper and lower sums, which print two decimals', () => {
    const high = [
      0, 0, 0, 0, 0.0325, 0, 0, 0, 0, 0, 0, 0, 3.0075, 4.94, 7.4475, 10.63, 11.9875, 14.445, 16.0025, 19.035,
    ];
    chart.high.forEach((v, i) => expect(v).toBeCloseTo(high[i] as number, 8));
    const low = [0, 0.0075, 0, 0.3325, 0, 0, 0.5575, 0.715, 0.1725, 0.255, 0.3125, 0];
    low.forEach((v, i) => expect(chart.low[i]).toBeCloseTo(v, 8));
  });
  it('signals first at group 14', () => expect(chart.firstSignal + 1).toBe(14));
});

describe('EWMA, NIST/SEMATECH 6.3.2.4', () => {
  const data = [
    52, 47, 53, 49.3, 50.1, 47, 51, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6,
    52.1,
  ];
  const printed = [
    50.6, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33, 50.11, 49.36, 49.52, 50.05, 49.38,
    49.92, 50.73, 51.23, 51.94, 51.99,
  ];
  it('follows the printed averages to their two decimals', () => {
    ewma(data, 0.3, 50).forEach((v, i) =>
      expect(Math.abs(v - (printed[i] as number))).toBeLessThanOrEqual(0.00501),
    );
  });
  it('has the limits 52.5884 and 47.4115', () => {
    const { low, high } = ewmaLimits(50, 2.0539, 0.3);
    expect(high).toBeCloseTo(52.5884, 3);
    expect(low).toBeCloseTo(47.4116, 3);
  });
});

describe('median absolute deviation and modified z, NIST/SEMATECH 1.3.5.17.1', () => {
  const uranium = [199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57];
  it('has median 201.37 and MAD 0.995', () => {
    expect(median(uranium)).toBeCloseTo(201.37, 10);
    expect(robustSd(uranium) / madToSd).toBeCloseTo(0.995, 10);
    expect(robustSd(uranium)).toBeCloseTo(1.47519, 4);
  });
  it('is 2 and 1 on 1 1 2 2 4 6 9, the textbook series of the MAD', () => {
    expect(median([1, 1, 2, 2, 4, 6, 9])).toBe(2);
    expect(robustSd([1, 1, 2, 2, 4, 6, 9]) / madToSd).toBeCloseTo(1, 12);
  });
});

const nile = [
  1120, 1160, 963, 1210, 1160, 1160, 813, 1230, 1370, 1140, 995, 935, 1110, 994, 1020, 960, 1180, 799, 958,
  1140, 1100, 1210, 1150, 1250, 1260, 1220, 1030, 1100, 774, 840, 874, 694, 940, 833, 701, 916, 692, 1020,
  1050, 969, 831, 726, 456, 824, 702, 1120, 1100, 832, 764, 821, 768, 845, 864, 862, 698, 845, 744, 796, 1040,
  759, 781, 865, 845, 944, 984, 897, 822, 1010, 771, 676, 649, 846, 812, 742, 801, 1040, 860, 874, 848, 890,
  744, 749, 838, 1050, 918, 986, 797, 923, 975, 815, 1020, 906, 901, 1170, 912, 746, 919, 718, 714, 740,
];

describe('Mann-Kendall and Sen', () => {
  it('on the Nile: S −1387, variance 112728.33, Z −4.12807, slope −2.6', () => {
    expect(nile.reduce((a, b) => a + b, 0) / nile.length).toBeCloseTo(919.35, 10);
    const test = mannKendall(nile);
    expect(test.s).toBe(-1387);
    expect(test.variance).toBeCloseTo(112728.333, 2);
    expect(test.z).toBeCloseTo(-4.12807, 5);
    expect(test.p).toBeCloseTo(3.6583e-5, 7);
    expect(senSlope(nile)).toBeCloseTo(-2.6, 10);
  });
  it('on 1..100: S 4950, variance 112750, Z 14.7387 (tests of MannKendall.jl)', () => {
    const test = mannKendall(Array.from({ length: 100 }, (_, i) => i + 1));
    expect([test.s, test.variance]).toEqual([4950, 112750]);
    expect(test.z).toBeCloseTo(14.7387, 4);
  });
  it('is not led by one wild value: slope 1 on 1 2 3 4 5 16 7 (after Helsel and Hirsch, from memory)', () => {
    expect(senSlope([1, 2, 3, 4, 5, 16, 7])).toBe(1);
  });
});

describe('intervals and exact test', () => {
  it.each([
    { hits: 81, n: 263, low: 0.2553, high: 0.3662 },
    { hits: 15, n: 148, low: 0.0624, high: 0.1605 },
    { hits: 0, n: 20, low: 0, high: 0.1611 },
    { hits: 1, n: 29, low: 0.0061, high: 0.1718 },
    { hits: 29, n: 29, low: 0.883, high: 1 },
  ])('Wilson, Newcombe 1998: $hits of $n', ({ hits, n, low, high }) => {
    const interval = wilson(hits, n);
    expect(interval.low).toBeCloseTo(low, 4);
    expect(interval.high).toBeCloseTo(high, 4);
  });
  it('Fisher’s tea: 4 of 4 is 1/70; 3 of 4 is 17/70 one-sided and 34/70 two-sided (scipy)', () => {
    expect(fisherExact({ a: 4, b: 0, c: 0, d: 4 }).oneSided).toBeCloseTo(1 / 70, 9);
    const three = fisherExact({ a: 3, b: 1, c: 1, d: 3 });
    expect(three.oneSided).toBeCloseTo(17 / 70, 9);
    expect(three.twoSided).toBeCloseTo(34 / 70, 9);
  });
});
