/**
 * Calendar days at a site. A keeper's "day 7" is the seventh date after the split's date on the wall
 * calendar of the place where the nuc stands, so every date here comes from the site's IANA zone and is
 * right across changes of daylight-saving time. Durations on a brood clock are in `biology/duration.ts`.
 */
import { Temporal } from 'temporal-polyfill';

const local = (atMs: number, timeZone: string): Temporal.ZonedDateTime =>
  Temporal.Instant.fromEpochMilliseconds(atMs).toZonedDateTimeISO(timeZone);

/** Calendar days from the split to `atMs`: 0 on the day of the split, negative before it. */
export function dayNumber(splitMs: number, atMs: number, timeZone: string): number {
  const from = local(splitMs, timeZone).toPlainDate();
  return from.until(local(atMs, timeZone).toPlainDate(), { largestUnit: 'days' }).days;
}

/** First instant of the calendar day that holds `atMs`. */
export const startOfDay = (atMs: number, timeZone: string): number =>
  local(atMs, timeZone).startOfDay().epochMilliseconds;

/** The same wall-clock time `days` calendar days later; a time that a spring change skips moves to just after it. */
export const addDays = (atMs: number, days: number, timeZone: string): number =>
  local(atMs, timeZone).add({ days }).epochMilliseconds;

/** First instant of the day that lies `days` calendar days after the day of `atMs`. */
export const startOfDayAfter = (atMs: number, days: number, timeZone: string): number =>
  local(atMs, timeZone).startOfDay().add({ days }).startOfDay().epochMilliseconds;

/** `hour` o'clock on the day that lies `days` calendar days after the day of `atMs`. */
export const onDayAt = (atMs: number, days: number, hour: number, timeZone: string): number =>
  local(atMs, timeZone).toPlainDate().add({ days }).toZonedDateTime({ timeZone, plainTime: { hour } })
    .epochMilliseconds;

/** Local date as YYYY-MM-DD. */
export const isoDate = (atMs: number, timeZone: string): string =>
  local(atMs, timeZone).toPlainDate().toString();

/** `hour` o'clock of a local date YYYY-MM-DD. Throws a RangeError when it is not a date. */
export const atHourOfDate = (date: string, hour: number, timeZone: string): number =>
  Temporal.PlainDate.from(date).toZonedDateTime({ timeZone, plainTime: { hour } }).epochMilliseconds;

/** Position on a day rail: the day number with the elapsed share of that day, whose length may be 23 or 25 h. */
export function dayPosition(splitMs: number, atMs: number, timeZone: string): number {
  const at = local(atMs, timeZone);
  const from = at.startOfDay().epochMilliseconds;
  const length = at.hoursInDay * 3_600_000;
  return dayNumber(splitMs, atMs, timeZone) + (atMs - from) / length;
}

/** Whether the name is a zone that this machine knows. */
export function isTimeZone(name: string): boolean {
  try {
    local(0, name);
    return true;
  } catch {
    return false;
  }
}
