/** Small made-up series for tests: a reading every some minutes, without chance but for a fixed ripple. */
import { seriesOf } from '../../server/signals/series.ts';
import type { KnownEvent, Series, SitePlace } from '../../server/signals/types.ts';

export const minuteMs = 60_000;
export const hourMs = 60 * minuteMs;
export const dayMs = 24 * hourMs;

export const place: SitePlace = { latDeg: 50, lonDeg: 10, timeZone: 'Europe/Berlin' };
/** Local midnight of 10 June 2025 there. */
export const midnight = Date.UTC(2025, 5, 9, 22);

/** `of(hours since fromMs)` every `everyMin` minutes over [fromMs, toMs). */
export function made(fromMs: number, toMs: number, of: (hours: number) => number, everyMin = 5): Series {
  const readings: { atMs: number; value: number }[] = [];
  for (let at = fromMs; at < toMs; at += everyMin * minuteMs) {
    readings.push({ atMs: at, value: of((at - fromMs) / hourMs) });
  }
  return seriesOf(readings);
}

/** A ripple that looks like noise of about this standard deviation and is the same each time. */
export const ripple = (hours: number, sd: number): number =>
  sd * (Math.sin(hours * 977.3) + Math.sin(hours * 341.7 + 1) + Math.sin(hours * 1733.9 + 2)) * 0.816;

/** Outside over the day: coldest at 5 o'clock. `hour` counts from a midnight. */
export const outsideC = (hour: number, meanC = 16, swing = 6): number =>
  meanC - swing * Math.cos(((hour - 5) / 24) * 2 * Math.PI);

export const visitAt = (atMs: number): KnownEvent => ({ atMs, kind: 'visit' });
