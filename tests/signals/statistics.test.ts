import fc from 'fast-check';
import { medianSorted } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { medianInterval, wilson } from '../../server/signals/statistics/intervals.ts';
import { cholesky, leastSquares } from '../../server/signals/statistics/linear.ts';
import { mixtureBelow, mixtureQuantile } from '../../server/signals/statistics/mixture.ts';
import {
  medianOfWindow,
  median,
  robustLine,
  runningMedians,
} from '../../server/signals/statistics/robust.ts';
import { mannKendall, senSlope } from '../../server/signals/statistics/trend.ts';

const finite = fc.double({ min: -1e4, max: 1e4, noNaN: true });

describe('medians', () => {
  it('are those of simple-statistics', () => {
    fc.assert(
      fc.property(fc.array(fc.oneof(finite, fc.integer({ min: 0, max: 3 })), { minLength: 1 }), (values) => {
        expect(median(values)).toBeCloseTo(medianSorted([...values].sort((a, b) => a - b)), 9);
      }),
    );
  });
  it('of a window agree with those of a list', () => {
    fc.assert(
      fc.property(fc.array(finite, { minLength: 1, maxLength: 25 }), (values) => {
        expect(medianOfWindow(values, 0, values.length, new Float64Array(25))).toBeCloseTo(median(values), 9);
      }),
    );
  });
  it('of all windows of a list, kept up as the window moves, agree with each by itself', () => {
    const values = fc.array(fc.oneof(finite, fc.integer({ min: 0, max: 3 })), { maxLength: 60 });
    fc.assert(
      fc.property(values, fc.integer({ min: 1, max: 12 }), (list, width) => {
        const each = list.slice(width - 1).map((_, i) => median(list.slice(i, i + width)));
        const running = runningMedians(list, width);
        expect(running.length).toBe(each.length);
        each.forEach((middle, i) => expect(running[i]).toBeCloseTo(middle, 9));
      }),
    );
  });
  it('have an interval that holds them', () => {
    fc.assert(
      fc.property(fc.array(finite, { minLength: 1, maxLength: 80 }), (values) => {
        const i = medianInterval(values);
        expect(i.low).toBeLessThanOrEqual(i.median);
        expect(i.high).toBeGreaterThanOrEqual(i.median);
      }),
    );
    expect(() => medianInterval([])).toThrow('empty');
  });
});

describe('a robust line', () => {
  it('is the line where there is one, a third of the points apart', () => {
    const x = Array.from({ length: 30 }, (_, i) => i);
    const y = x.map((v) => 3 + 0.5 * v + (v % 5 === 0 ? 40 : Math.sin(v * 9) / 10));
    const line = robustLine(x, y)!;
    expect(line.slope).toBeCloseTo(0.5, 1);
    expect(Math.abs(line.intercept - 3)).toBeLessThan(0.6);
  });
  it('follows shift and scale of its values', () => {
    fc.assert(
      fc.property(
        fc.array(finite, { minLength: 4, maxLength: 30 }),
        fc.double({ min: 0.5, max: 3, noNaN: true }),
        finite,
        (y, scale, shift) => {
          const x = y.map((_, i) => i);
          const here = robustLine(x, y)!;
          const there = robustLine(
            x,
            y.map((v) => v * scale + shift),
          )!;
          // The iteration stops at a relative change of 1e-6.
          const spread = 1 + Math.max(...y.map(Math.abs));
          expect(Math.abs(there.slope - here.slope * scale) / spread).toBeLessThan(1e-3);
        },
      ),
    );
  });
  it('is none without three points or width', () => {
    expect(robustLine([1, 2], [1, 2])).toBeNull();
    expect(robustLine([1, 1, 1], [1, 2, 3])).toBeNull();
  });
});

describe('linear algebra', () => {
  it('solves what it can and says so when it cannot', () => {
    const fit = leastSquares(
      Float64Array.of(1, 0, 1, 1, 1, 2),
      Float64Array.of(1, 3, 5),
      Float64Array.of(1, 1, 1),
      2,
    )!;
    expect(fit.beta[0]).toBeCloseTo(1, 12);
    expect(fit.beta[1]).toBeCloseTo(2, 12);
    expect(
      leastSquares(Float64Array.of(1, 1, 1, 1), Float64Array.of(1, 2), Float64Array.of(1, 1), 2),
    ).toBeNull();
    expect(cholesky(Float64Array.of(-1), 1)).toBe(false);
  });
});

describe('a mixture of normals', () => {
  const parts = [
    { weight: 0.5, mean: -1, sd: 1 },
    { weight: 0.5, mean: 1, sd: 1 },
  ];
  it('has quantiles that are the inverse of its distribution', () => {
    for (const p of [0.05, 0.3, 0.5, 0.95])
      expect(mixtureBelow(parts, mixtureQuantile(parts, p))).toBeCloseTo(p, 6);
  });
  it('is cut off at its floor', () => {
    expect(mixtureQuantile(parts, 0.05, 0)).toBeGreaterThanOrEqual(0);
    expect(mixtureQuantile([{ weight: 1, mean: -50, sd: 1 }], 0.5, 0)).toBe(0);
  });
});

describe('a quantile of a mixture', () => {
  it('is where the chance of less reaches it, however far apart and unequal the parts lie', () => {
    const part = fc.record({
      weight: fc.double({ min: 0.01, max: 1, noNaN: true }),
      mean: fc.double({ min: -300, max: 500, noNaN: true }),
      sd: fc.double({ min: 0.5, max: 80, noNaN: true }),
    });
    fc.assert(
      fc.property(
        fc.array(part, { minLength: 1, maxLength: 12 }),
        fc.constantFrom(0.05, 0.5, 0.95),
        fc.constantFrom(-Infinity, 0),
        (parts, p, floor) => {
          const total = parts.reduce((sum, one) => sum + one.weight, 0);
          const mixture = parts.map((one) => ({ ...one, weight: one.weight / total }));
          const under = floor === 0 ? mixtureBelow(mixture, 0) : 0;
          const wanted = under + p * (1 - under);
          const at = mixtureQuantile(mixture, p, floor);
          if (under > 1 - 1e-9) expect(at).toBe(0);
          // The error function's own error is 1e-7.
          else expect(Math.abs(mixtureBelow(mixture, at) - wanted)).toBeLessThan(2e-6);
        },
      ),
    );
  });
});

describe('trend', () => {
  it('of equal values is none; of one value no slope', () => {
    expect(mannKendall([4, 4, 4])).toMatchObject({ s: 0, variance: 0, z: 0 });
    expect(senSlope([3])).toBeNaN();
    expect(senSlope([1, 2], [5, 5])).toBeNaN();
  });
  it('turns with the order of the values', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: -50, max: 50 }), { minLength: 2, maxLength: 20 }), (values) => {
        expect(mannKendall([...values].reverse()).s).toBe(-mannKendall(values).s + 0);
      }),
    );
  });
  it('a share of nothing is anything', () => expect(wilson(0, 0)).toEqual({ low: 0, high: 1 }));
});
