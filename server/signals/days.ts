/** Local calendar days of a site. */
import { Temporal } from 'temporal-polyfill';
import { dayMs } from '../durations.ts';

export interface LocalDay {
  /** YYYY-MM-DD. */
  readonly date: string;
  readonly fromMs: number;
  /** Start of the next day; 23, 24 or 25 hours later. */
  readonly toMs: number;
}

export const dateAt = (timeZone: string, atMs: number): string =>
  Temporal.Instant.fromEpochMilliseconds(Math.floor(atMs))
    .toZonedDateTimeISO(timeZone)
    .toPlainDate()
    .toString();

/** Days by zone and start: zone arithmetic is slow, and the same days are asked for again and again. */
const known = new Map<string, Map<number, LocalDay>>();
/** Setting: days kept. */
const mostKnown = 5000;

function knownOf(timeZone: string): Map<number, LocalDay> {
  let days = known.get(timeZone);
  if (!days) known.set(timeZone, (days = new Map<number, LocalDay>()));
  if (days.size > mostKnown) days.clear();
  return days;
}

function dayOn(timeZone: string, date: string): LocalDay {
  const day = Temporal.PlainDate.from(date);
  const start = (of: Temporal.PlainDate): number => of.toZonedDateTime(timeZone).epochMilliseconds;
  return { date, fromMs: start(day), toMs: start(day.add({ days: 1 })) };
}

/** Local days that [fromMs, toMs] touches, in order. */
export function daysBetween(timeZone: string, fromMs: number, toMs: number): LocalDay[] {
  if (!(toMs >= fromMs)) return [];
  const days: LocalDay[] = [];
  const byStart = knownOf(timeZone);
  let day = byStart.get(fromMs) ?? dayOn(timeZone, dateAt(timeZone, fromMs));
  while (day.fromMs <= toMs) {
    byStart.set(day.fromMs, day);
    days.push(day);
    day = byStart.get(day.toMs) ?? dayOn(timeZone, dayAfter(day.date));
  }
  return days;
}

/** Calendar days from one date to another, negative backwards. */
export const daysFrom = (from: string, to: string): number =>
  // A date alone is read as midnight of UTC, whose days are all of one length.
  (Date.parse(to) - Date.parse(from)) / dayMs;

export const dayAfter = (date: string): string => Temporal.PlainDate.from(date).add({ days: 1 }).toString();

export const dayBefore = (date: string): string =>
  Temporal.PlainDate.from(date).subtract({ days: 1 }).toString();
