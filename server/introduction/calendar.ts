/**
 * Calendar days at a site. A keeper's "day 7" is the seventh date after the split's date on the wall
 * calendar of the place where the nuc stands, so every date here comes from the site's IANA zone and is
 * right across changes of daylight-saving time. Durations on a brood clock are in `biology/duration.ts`.
 */
import { Temporal } from 'temporal-polyfill';
import { dayMs } from '../durations.ts';

const local = (atMs: number, timeZone: string): Temporal.ZonedDateTime =>
  Temporal.Instant.fromEpochMilliseconds(atMs).toZonedDateTimeISO(timeZone);

/** Keeps the answers of a pure function; zone arithmetic is slow, and the same days are asked for again and again. */
function remembered<T>(compute: (key: number, timeZone: string) => T): (key: number, timeZone: string) => T {
  /** Setting: answers kept, a few megabytes. */
  const most = 20_000;
  const zones = new Map<string, Map<number, T>>();
  return (key, timeZone) => {
    let known = zones.get(timeZone);
    if (!known) zones.set(timeZone, (known = new Map<number, T>()));
    const found = known.get(key);
    if (found !== undefined) return found;
    if (known.size >= most) known.clear();
    const answer = compute(key, timeZone);
    known.set(key, answer);
    return answer;
  };
}

const firstDate = Temporal.PlainDate.from('1970-01-01');
const dateOfNumbered = (number: number): Temporal.PlainDate => firstDate.add({ days: number });
const isoOfNumbered = remembered((number) => dateOfNumbered(number).toString());

const startOfNumbered = remembered(
  (number, timeZone) => dateOfNumbered(number).toZonedDateTime({ timeZone }).epochMilliseconds,
);

/** Days since 1970-01-01 on the calendar of the zone: the latest that has begun by then. */
function numberAt(atMs: number, timeZone: string): number {
  let number = Math.floor(atMs / dayMs);
  while (startOfNumbered(number + 1, timeZone) <= atMs) number += 1;
  while (startOfNumbered(number, timeZone) > atMs) number -= 1;
  return number;
}

/** Calendar days from the split to `atMs`: 0 on the day of the split, negative before it. */
export const dayNumber = (splitMs: number, atMs: number, timeZone: string): number =>
  numberAt(atMs, timeZone) - numberAt(splitMs, timeZone);

/** First instant of the calendar day that holds `atMs`. */
export const startOfDay = (atMs: number, timeZone: string): number =>
  startOfNumbered(numberAt(atMs, timeZone), timeZone);

/** First instant of the day that lies `days` calendar days after the day of `atMs`. */
export const startOfDayAfter = (atMs: number, days: number, timeZone: string): number =>
  startOfNumbered(numberAt(atMs, timeZone) + days, timeZone);

/** Method: whole milliseconds since 1970 need 43 bits until the year 2200, so the days beside them fit a number exactly. */
const daysBesides = 512;
const daysLater = remembered(
  (key, timeZone) =>
    local(Math.floor(key / daysBesides), timeZone).add({ days: key % daysBesides }).epochMilliseconds,
);

/** The same wall-clock time `days` calendar days later; a time that a spring change skips moves to just after it. */
export const addDays = (atMs: number, days: number, timeZone: string): number =>
  Number.isInteger(atMs) && days >= 0 && days < daysBesides
    ? daysLater(atMs * daysBesides + days, timeZone)
    : local(atMs, timeZone).add({ days }).epochMilliseconds;

const hourOfNumbered = remembered(
  (key, timeZone) =>
    firstDate
      .add({ days: Math.floor(key / 24) })
      .toZonedDateTime({ timeZone, plainTime: { hour: key - 24 * Math.floor(key / 24) } }).epochMilliseconds,
);

/** `hour` o'clock on the day that lies `days` calendar days after the day of `atMs`. */
export const onDayAt = (atMs: number, days: number, hour: number, timeZone: string): number =>
  hourOfNumbered((numberAt(atMs, timeZone) + days) * 24 + hour, timeZone);

/** Local date as YYYY-MM-DD. */
export const isoDate = (atMs: number, timeZone: string): string =>
  isoOfNumbered(numberAt(atMs, timeZone), timeZone);

/** `hour` o'clock of a local date YYYY-MM-DD. Throws a RangeError when it is not a date. */
export const atHourOfDate = (date: string, hour: number, timeZone: string): number =>
  Temporal.PlainDate.from(date).toZonedDateTime({ timeZone, plainTime: { hour } }).epochMilliseconds;

/** Whole hour of the day on the wall clock. */
export const hourOfDay = (atMs: number, timeZone: string): number => local(atMs, timeZone).hour;

/** Position on a day rail: the day number with the elapsed share of that day, whose length may be 23 or 25 h. */
export function dayPosition(splitMs: number, atMs: number, timeZone: string): number {
  const from = startOfDay(atMs, timeZone);
  const until = startOfDayAfter(atMs, 1, timeZone);
  return dayNumber(splitMs, atMs, timeZone) + (atMs - from) / (until - from);
}
