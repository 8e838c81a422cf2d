/** Newtonian cooling: how long until a falling temperature reaches a limit. */
import { fallThatCountsKPerH } from '../../biology/nest-figures.ts';
import { level90, z90 } from '../statistics/intervals.ts';
import { kelvin, minutes, say } from '../../words/phrase.ts';
import { between, hourMs, minuteMs, usualIntervalMs } from '../series.ts';
import { robustLine } from '../statistics/robust.ts';
import type { Estimate, Series } from '../types.ts';

/**
 * Minutes until a body at `nowC` that falls by `fallCPerH` towards `aroundC` reaches `limitC`: with the rate
 * k = fall / (now − around), t = ln((now − around) / (limit − around)) / k. Infinity where the surroundings are
 * not colder than the limit, 0 where the limit is passed.
 */
export function minutesUntil(nowC: number, fallCPerH: number, aroundC: number, limitC: number): number {
  if (nowC <= limitC) return 0;
  if (fallCPerH <= 0 || aroundC >= limitC || aroundC >= nowC) return Infinity;
  const ratePerH = fallCPerH / (nowC - aroundC);
  return (Math.log((nowC - aroundC) / (limitC - aroundC)) / ratePerH) * 60;
}

/** Method: the stretch whose fall is looked at, at least. */
const fallSpanMs = 90 * minuteMs;
/** Method: the stretch that tells how often the sensor reads. */
const intervalMs = 12 * hourMs;
const leastFallCPerH = fallThatCountsKPerH.value;
/** Method: readings without which there is no fall. */
const leastReadings = 5;
/** Method: errors of a slope under this are rounding, K an hour. */
const leastSlopeError = 0.02;
/** Method: colder than any limit. */
const freezing = -1e6;
/** Method: longer ahead than this the present fall says nothing. */
const longestMinutes = 12 * 60;

/**
 * Minutes to the limit at the fall of the last hour and a half, or of six intervals of a sensor that reads seldom;
 * declines when it is not falling, or never gets there.
 */
export function minutesToLimit(
  brood: Series,
  aroundC: number | null,
  limitC: number,
  nowMs: number,
): Estimate {
  const spanMs = spanOf(between(brood, nowMs - intervalMs, nowMs + 1));
  const recent = between(brood, nowMs - spanMs, nowMs + 1);
  const x = Float64Array.from(recent.atMs, (at) => (at - nowMs) / hourMs);
  const line = recent.value.length < leastReadings ? null : robustLine(x, recent.value);
  if (!line) return { ok: false, why: 'too few readings lately for a fall to show' };
  const nowC = line.intercept;
  const restsOn = [
    say`the fall of ${kelvin(-line.slope)} an hour over the last ${minutes(spanMs / minuteMs)}`,
  ];
  if (nowC <= limitC)
    return {
      ok: true,
      value: 0,
      low: 0,
      high: 0,
      level: level90,
      restsOn: ['the newest reading, which is under the limit'],
    };
  const fall = -line.slope;
  // Neighbouring bins go together: the slope's error doubled.
  const error = 2 * z90 * Math.max(line.slopeSe, leastSlopeError);
  if (fall < leastFallCPerH || fall - error <= 0) return { ok: false, why: 'it is not falling' };
  // Without an outside probe the fall is taken as straight: the sooner of the two.
  const around = aroundC ?? freezing;
  const at = (rate: number): number => Math.min(longestMinutes, minutesUntil(nowC, rate, around, limitC));
  const value = at(fall);
  if (value >= longestMinutes)
    return { ok: false, why: 'at this fall it does not reach the limit within twelve hours' };
  return { ok: true, value, low: at(fall + error), high: at(fall - error), level: level90, restsOn };
}

/** Whether a sensor reads too seldom for an hour and a half to show a fall. */
export const readsSeldom = (brood: Series, nowMs: number): boolean =>
  spanOf(between(brood, nowMs - intervalMs, nowMs + 1)) > fallSpanMs;

/** Five readings of a sensor that reads seldom do not lie within an hour and a half; a gap before the newest is allowed for. */
function spanOf(recent: Series): number {
  const everyMs = usualIntervalMs(recent) ?? 0;
  return (leastReadings - 1) * everyMs > fallSpanMs ? (leastReadings + 1) * everyMs : fallSpanMs;
}
