/**
 * Newtonian cooling against its closed form; sun times against the NOAA solar calculator's equations (Meeus,
 * Astronomical Algorithms, low precision), written out here so that nothing is shared with the package in use.
 */
import { describe, expect, it } from 'vitest';
import { binsOf } from '../../server/signals/bins.ts';
import { minutesToLimit, minutesUntil } from '../../server/signals/chill/cooling.ts';
import { sunDay } from '../../server/signals/sun.ts';

const minuteMs = 60_000;
const hourMs = 3_600_000;

describe('Newtonian cooling', () => {
  it('reaches the limit when the closed form says', () => {
    // 34.5 °C towards 8 °C with k = 0.2/h: T = 8 + 26.5·exp(−0.2 t); 32 °C after ln(26.5/24)/0.2 h.
    const closed = (Math.log(26.5 / 24) / 0.2) * 60;
    expect(minutesUntil(34.5, 0.2 * 26.5, 8, 32)).toBeCloseTo(closed, 9);
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

const rad = Math.PI / 180;

/** Sunrise and sunset by NOAA's equations for a UTC day, ms. */
function noaa(
  year: number,
  month: number,
  day: number,
  lat: number,
  lon: number,
): { rise: number; set: number } {
  const midnight = Date.UTC(year, month - 1, day);
  const century = (midnight / 86_400_000 + 2440587.5 + 0.5 - 2451545) / 36525;
  const meanLong = (280.46646 + century * (36000.76983 + century * 0.0003032)) % 360;
  const anomaly = 357.52911 + century * (35999.05029 - 0.0001537 * century);
  const ecc = 0.016708634 - century * 0.000042037;
  const centre =
    Math.sin(anomaly * rad) * (1.914602 - century * 0.004817) +
    Math.sin(2 * anomaly * rad) * (0.019993 - 0.000101 * century) +
    Math.sin(3 * anomaly * rad) * 0.000289;
  const apparent = meanLong + centre - 0.00569 - 0.00478 * Math.sin((125.04 - 1934.136 * century) * rad);
  const tilt = 23.4392911 - 0.0130042 * century + 0.00256 * Math.cos((125.04 - 1934.136 * century) * rad);
  const declination = Math.asin(Math.sin(tilt * rad) * Math.sin(apparent * rad));
  const y = Math.tan((tilt / 2) * rad) ** 2;
  const equation =
    (4 / rad) *
    (y * Math.sin(2 * meanLong * rad) -
      2 * ecc * Math.sin(anomaly * rad) +
      4 * ecc * y * Math.sin(anomaly * rad) * Math.cos(2 * meanLong * rad) -
      0.5 * y * y * Math.sin(4 * meanLong * rad) -
      1.25 * ecc * ecc * Math.sin(2 * anomaly * rad));
  const angle =
    Math.acos(
      Math.cos(90.833 * rad) / (Math.cos(lat * rad) * Math.cos(declination)) -
        Math.tan(lat * rad) * Math.tan(declination),
    ) / rad;
  const noon = 720 - 4 * lon - equation;
  return { rise: midnight + (noon - 4 * angle) * minuteMs, set: midnight + (noon + 4 * angle) * minuteMs };
}

describe('sun times', () => {
  it.each([
    { date: '2025-06-21', latDeg: 52, lonDeg: 13, timeZone: 'Europe/Berlin' },
    { date: '2025-03-20', latDeg: 40, lonDeg: -90, timeZone: 'America/Chicago' },
    { date: '2025-12-21', latDeg: 47.5, lonDeg: -52.7, timeZone: 'America/St_Johns' },
    { date: '2025-10-05', latDeg: -33.9, lonDeg: 151.2, timeZone: 'Australia/Sydney' },
    { date: '2025-01-15', latDeg: 56, lonDeg: -3, timeZone: 'Europe/London' },
  ])(
    'on $date at $latDeg, $lonDeg agree with NOAA within two minutes',
    ({ date, latDeg, lonDeg, timeZone }) => {
      const sun = sunDay({ latDeg, lonDeg, timeZone }, date);
      const [year, month, day] = date.split('-').map(Number) as [number, number, number];
      // NOAA's day is UTC's; the local date's sunrise may belong to the day before or after.
      const near = (ms: number | null, of: 'rise' | 'set'): number =>
        Math.min(
          ...[-1, 0, 1].map((shift) => {
            const at = new Date(Date.UTC(year, month - 1, day + shift));
            const other = noaa(at.getUTCFullYear(), at.getUTCMonth() + 1, at.getUTCDate(), latDeg, lonDeg)[
              of
            ];
            return Math.abs((ms ?? NaN) - other) / minuteMs;
          }),
        );
      expect(near(sun.sunriseMs, 'rise')).toBeLessThan(2);
      expect(near(sun.sunsetMs, 'set')).toBeLessThan(2);
      expect(sun.dawnMs!).toBeLessThan(sun.sunriseMs!);
      expect(sun.duskMs!).toBeGreaterThan(sun.sunsetMs!);
    },
  );
  it('has neither dawn nor dusk in a white night', () => {
    const sun = sunDay({ latDeg: 68, lonDeg: 20, timeZone: 'Europe/Stockholm' }, '2025-06-21');
    expect([sun.dawnMs, sun.sunriseMs, sun.sunsetMs, sun.duskMs]).toEqual([null, null, null, null]);
  });
});
