/** Where a simulated nuc stands, and the local calendar there. */
import { Temporal } from 'temporal-polyfill';

export interface SimPlace {
  readonly latDeg: number;
  readonly lonDeg: number;
  /** IANA zone, such as Europe/Berlin. */
  readonly timeZone: string;
}

export const minuteMs = 60_000;
export const hourMs = 3_600_000;

/** The instant of a local wall-clock hour on a calendar day so many days after the day of `baseMs`. */
export function localHour(baseMs: number, daysLater: number, hour: number, timeZone: string): number {
  const day = Temporal.Instant.fromEpochMilliseconds(baseMs)
    .toZonedDateTimeISO(timeZone)
    .toPlainDate()
    .add({ days: daysLater });
  const minutes = Math.round(hour * 60);
  const time = Temporal.PlainTime.from({ hour: Math.floor(minutes / 60), minute: minutes % 60 });
  return day.toZonedDateTime({ timeZone, plainTime: time }).epochMilliseconds;
}

/** Day of the year (1-366) of an instant, in UTC: good enough for seasons. */
export function dayOfYear(atMs: number): number {
  return Temporal.Instant.fromEpochMilliseconds(atMs).toZonedDateTimeISO('UTC').dayOfYear;
}
