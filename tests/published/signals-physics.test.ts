/**
 * Newtonian cooling, dT/dt = −k (T − around), against SciPy 1.17.1: `solve_ivp` (DOP853, tolerances 1e-12) with the limit
 * as its event; minutes recorded here, tolerance 1e-6 minutes.
 */
import { describe, expect, it } from 'vitest';
import { binsOf } from '../../server/signals/bins.ts';
import { minutesToLimit, minutesUntil } from '../../server/signals/chill/cooling.ts';

const minuteMs = 60_000;
const hourMs = 3_600_000;

describe('Newtonian cooling', () => {
  it.each([
    { fromC: 34.5, k: 0.2, aroundC: 8, limitC: 32, minutes: 29.727270793288884 },
    { fromC: 33.1, k: 0.05, aroundC: -4, limitC: 32, minutes: 36.117637388737286 },
    { fromC: 36, k: 0.6, aroundC: 15, limitC: 32, minutes: 21.13090936681386 },
  ])('from $fromC °C towards $aroundC °C', ({ fromC, k, aroundC, limitC, minutes }) => {
    const found = minutesUntil(fromC, k * (fromC - aroundC), aroundC, limitC);
    expect(Math.abs(found - minutes)).toBeLessThan(1e-6);
  });
  it('is found again from readings every minute within the reading of a straight fall', () => {
    const now = 100 * hourMs;
    const at = Array.from({ length: 120 }, (_, i) => now - (119 - i) * minuteMs);
    const curve = (ms: number): number => 8 + 27 * Math.exp((-0.03 * (ms - at[0]!)) / hourMs);
    const series = { atMs: Float64Array.from(at), value: Float64Array.from(at, curve) };
    const estimate = minutesToLimit(binsOf(series), 8, 32, now);
    const truth = (Math.log((curve(now) - 8) / 24) / 0.03) * 60;
    if (!estimate.ok) throw new Error(JSON.stringify(estimate.why));
    // The line is fitted to 90 minutes of a curve: its slope is the middle's, 2 % off at this rate.
    expect(Math.abs(estimate.value / truth - 1)).toBeLessThan(0.03);
    expect(estimate.low).toBeLessThan(truth);
    expect(estimate.high).toBeGreaterThan(truth);
  });
  it('never comes where the surroundings are warmer than the limit, and is there when it is passed', () => {
    expect(minutesUntil(34, 1, 33, 32)).toBe(Infinity);
    expect(minutesUntil(31, 1, 10, 32)).toBe(0);
  });
});
