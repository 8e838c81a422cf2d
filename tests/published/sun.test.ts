/**
 * Sun times and heights against astronomy-engine 2.1.19, which reckons from VSOP87 and shares nothing with the package
 * in use: civil dawn and dusk, sunrise and sunset within 30 s; height within 0.1° where the sun stands clear of the
 * horizon (their formulas of refraction part under half a degree).
 */
import { Equator, Horizon, Observer, SearchAltitude, SearchRiseSet, Body } from 'astronomy-engine';
import { describe, expect, it } from 'vitest';
import { sunDay, sunHeightDeg } from '../../server/signals/sun.ts';

const hourMs = 3_600_000;
const sites = [
  { latDeg: 60, lonDeg: 25, timeZone: 'Europe/Helsinki' },
  { latDeg: 52, lonDeg: 13, timeZone: 'Europe/Berlin' },
  { latDeg: 40, lonDeg: -90, timeZone: 'America/Chicago' },
  { latDeg: 47.5, lonDeg: -52.7, timeZone: 'America/St_Johns' },
  { latDeg: 0, lonDeg: 36.8, timeZone: 'Africa/Nairobi' },
  { latDeg: -33.9, lonDeg: 151.2, timeZone: 'Australia/Sydney' },
  { latDeg: -45, lonDeg: 170, timeZone: 'Pacific/Auckland' },
];
const dates = [
  '2025-01-15',
  '2025-03-20',
  '2025-05-06',
  '2025-06-21',
  '2025-08-14',
  '2025-10-05',
  '2025-12-21',
];

/** Both instants are there and less than 30 s apart, or neither is. */
function sameInstant(ms: number | null, other: { readonly date: Date } | null): void {
  if (other === null) expect(ms).toBeNull();
  else expect(Math.abs((ms ?? NaN) - other.date.getTime())).toBeLessThan(30_000);
}

describe.each(sites)('at $latDeg°, $lonDeg°', (site) => {
  const observer = new Observer(site.latDeg, site.lonDeg, 0);

  it.each(dates)('on %s', (date) => {
    const sun = sunDay(site, date);
    const noon = new Date(sun.noonMs);
    const before = new Date(sun.noonMs - 12 * hourMs);
    sameInstant(sun.dawnMs, SearchAltitude(Body.Sun, observer, +1, before, 0.5, -6));
    sameInstant(sun.sunriseMs, SearchRiseSet(Body.Sun, observer, +1, before, 0.5));
    sameInstant(sun.sunsetMs, SearchRiseSet(Body.Sun, observer, -1, noon, 0.5));
    sameInstant(sun.duskMs, SearchAltitude(Body.Sun, observer, -1, noon, 0.5, -6));
  });

  it.each(dates)('stands as high on %s', (date) => {
    const { noonMs } = sunDay(site, date);
    for (let hour = -8; hour <= 8; hour += 2) {
      const at = new Date(noonMs + hour * hourMs);
      const { ra, dec } = Equator(Body.Sun, at, observer, true, true);
      const { altitude } = Horizon(at, observer, ra, dec, 'normal');
      if (altitude > 0.5) expect(Math.abs(sunHeightDeg(site, at.getTime()) - altitude)).toBeLessThan(0.1);
    }
  });
});

it('has neither dawn nor dusk in a white night', () => {
  const sun = sunDay({ latDeg: 68, lonDeg: 20, timeZone: 'Europe/Stockholm' }, '2025-06-21');
  expect([sun.dawnMs, sun.sunriseMs, sun.sunsetMs, sun.duskMs]).toEqual([null, null, null, null]);
});
