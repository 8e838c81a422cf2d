/** Local calendar days of a site. */
import { Temporal } from 'temporal-polyfill';

const dayMs = 86_400_000;

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

/** Local days that [fromMs, toMs] touches, in order. */
export function daysBetween(timeZone: string, fromMs: number, toMs: number): LocalDay[] {
  if (!(toMs >= fromMs)) return [];
  const days: LocalDay[] = [];
  let day = Temporal.PlainDate.from(dateAt(timeZone, fromMs));
  let startMs = day.toZonedDateTime(timeZone).epochMilliseconds;
  while (startMs <= toMs) {
    const next = day.add({ days: 1 });
    const endMs = next.toZonedDateTime(timeZone).epochMilliseconds;
    days.push({ date: day.toString(), fromMs: startMs, toMs: endMs });
    day = next;
    startMs = endMs;
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
