import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { binsOf, lagged, valueAt } from '../../server/signals/bins.ts';
import { hampel, withinRange } from '../../server/signals/clean.ts';
import { cleanTemperature } from '../../server/signals/day.ts';
import { between, latest, pick, seriesOf, usualIntervalMs } from '../../server/signals/series.ts';
import { median } from '../../server/signals/statistics/robust.ts';
import type { Series } from '../../server/signals/types.ts';

const minuteMs = 60_000;
const series = (values: readonly number[], everyMin = 1): Series => ({
  atMs: Float64Array.from(values, (_, i) => i * everyMin * minuteMs),
  value: Float64Array.from(values),
});
const marked = (marks: Uint8Array): number[] => [...marks].flatMap((m, i) => (m ? [i] : []));

describe('hampel', () => {
  const options = { halfWindow: 7, cut: 5, floor: 60 };
  it('marks a lone spike and nothing of a lasting step', () => {
    const spike = Array.from({ length: 40 }, (_, i) => 15_000 + (i % 3) - (i === 20 ? 100 : 0));
    expect(marked(hampel(series(spike), options))).toEqual([20]);
    const step = Array.from({ length: 40 }, (_, i) => (i < 20 ? 15_000 : 17_000) + (i % 3));
    expect(marked(hampel(series(step), options))).toEqual([]);
  });
  it('marks nothing under its floor, nor in a series too short to have neighbours', () => {
    expect(marked(hampel(series([1, 1, 1, 50, 1, 1]), options))).toEqual([]);
    expect(marked(hampel(series([1, 1000]), options))).toEqual([]);
  });
  it('is what its definition says, window by window', () => {
    const byDefinition = (values: readonly number[]): number[] =>
      values.flatMap((v, i) => {
        const window = values.slice(Math.max(0, i - options.halfWindow), i + options.halfWindow + 1);
        if (window.length < 3) return [];
        const middle = median(window);
        const sd = 1.4826 * median(window.map((w) => Math.abs(w - middle)));
        return Math.abs(v - middle) > Math.max(options.floor, options.cut * sd) ? [i] : [];
      });
    const value = fc.oneof(fc.integer({ min: -20, max: 20 }), fc.integer({ min: -300, max: 300 }));
    fc.assert(
      fc.property(fc.array(value, { maxLength: 40 }), (values) => {
        expect(marked(hampel(series(values), options))).toEqual(byDefinition(values));
      }),
      { numRuns: 300 },
    );
  });
  it('does not depend on where zero is', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: -500, max: 500 }), { minLength: 3, maxLength: 60 }),
        fc.integer({ min: -9000, max: 9000 }),
        (values, shift) => {
          expect(marked(hampel(series(values.map((v) => v + shift)), options))).toEqual(
            marked(hampel(series(values), options)),
          );
        },
      ),
    );
  });
});

describe('values that are no measurement', () => {
  // What common digital probes send that have measured nothing: 85, 127.94 and −127 °C (common practice).
  it('takes no value for a temperature that a probe sends for want of one, be it all that it sends', () => {
    expect([...cleanTemperature(series([34, 85, 34, -127, 34, 127.94])).value]).toEqual([34, 34, 34]);
    expect(cleanTemperature(series([85, 85, 85])).value).toHaveLength(0);
  });
  it('leaves out what lies out of range', () => {
    expect([...withinRange(series([-31, 0, -30, 60, 61]), -30, 60).value]).toEqual([0, -30, 60]);
    const all = series([-30, 60]);
    expect(withinRange(all, -30, 60)).toBe(all);
  });
  it('leaves of a temperature what a nest can have', () => {
    const hot = Array.from({ length: 20 }, (_, i) => (i === 9 ? 85 : i === 14 ? 45 : 34 + (i % 2) / 16));
    expect(Math.max(...cleanTemperature(series(hot)).value)).toBeLessThan(35);
  });
});

describe('series', () => {
  it('is the same whatever the order of arrival, first of the same instant kept', () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(
          fc.record({
            atMs: fc.integer({ min: 0, max: 1000 }),
            value: fc.double({ noNaN: true, noDefaultInfinity: true }),
          }),
          {
            selector: (r) => r.atMs,
            maxLength: 30,
          },
        ),
        (readings) => {
          const there = seriesOf(readings);
          expect(seriesOf([...readings].reverse())).toEqual(there);
          for (let i = 1; i < there.atMs.length; i++)
            expect(there.atMs[i]!).toBeGreaterThan(there.atMs[i - 1]!);
        },
      ),
    );
    expect([
      ...seriesOf([
        { atMs: 5, value: 1 },
        { atMs: 5, value: 2 },
        { atMs: 6, value: NaN },
      ]).value,
    ]).toEqual([1]);
  });
  it('cuts half-open spans and finds the newest reading', () => {
    const s = series([1, 2, 3, 4]);
    expect([...between(s, minuteMs, 3 * minuteMs).value]).toEqual([2, 3]);
    expect(latest(s, 2.5 * minuteMs)).toEqual({ atMs: 2 * minuteMs, value: 3 });
    expect(latest(s, -1)).toBeNull();
    expect(latest(undefined, 0)).toBeNull();
    expect(usualIntervalMs(s)).toBe(minuteMs);
    expect(usualIntervalMs(series([1, 2]))).toBeNull();
  });
});

describe('bins', () => {
  it('are medians of ten minutes, with gaps as gaps', () => {
    const values = [...Array.from({ length: 10 }, (_, i) => i), ...Array.from({ length: 10 }, () => 100)];
    const bins = binsOf(series(values));
    expect([...bins.value]).toEqual([4.5, 100]);
    expect([...bins.count]).toEqual([10, 10]);
    const apart = binsOf(pick(series(Array.from({ length: 40 }, (_, i) => i)), (i) => i < 5 || i === 38));
    expect([...apart.atMs]).toEqual([5 * minuteMs, 35 * minuteMs]);
    expect([...apart.value]).toEqual([2, 38]);
    expect([...apart.count]).toEqual([5, 1]);
  });
  it('give a value between neighbours, the nearest at the ends, and none across a long gap', () => {
    const s = { atMs: Float64Array.of(0, 3_600_000), value: Float64Array.of(10, 20) };
    expect(valueAt(s, 1_800_000)).toBe(15);
    expect(valueAt(s, -1_800_000)).toBe(10);
    expect(valueAt(s, 4_500_000)).toBe(20);
    expect(valueAt(s, 30_000_000)).toBeNaN();
    expect(valueAt(s, 1_800_000, 60_000)).toBeNaN();
  });
  it('lag as a first-order body does: 1 − 1/e of a step after one time constant, exact on a ramp', () => {
    const step = series([0, ...Array.from({ length: 120 }, () => 1)]);
    expect(lagged(step, 60 * minuteMs).value[61]).toBeCloseTo(1 - Math.exp(-1), 2);
    const ramp = lagged(series(Array.from({ length: 600 }, (_, i) => i)), 10 * minuteMs);
    expect(ramp.value[599]).toBeCloseTo(599 - 10, 6);
    expect(lagged(ramp, 0).value).toEqual(ramp.value);
  });
});
