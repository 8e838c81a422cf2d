/** Days, times and ages in the words of the page. */
import { count } from './units.ts';
import { dateStyle } from './date-style.ts';
import { addDays, formatIn, localDate, localTime, zoneOffsetMs } from './calendar.ts';

/** `Thu 14 May`, or `Thu May 14` where months come first. */
const inOrder = (weekday: string, day: string, month: string): string =>
  dateStyle.value.dateOrder === 'month-day' ? `${weekday} ${month} ${day}` : `${weekday} ${day} ${month}`;

/** `16:05`, or `4:05 pm`. */
export function clockTime(atMs: number, zone: string): string {
  const time = localTime(atMs, zone);
  if (dateStyle.value.hours === 24) return time;
  const hour = Number(time.slice(0, 2));
  return `${String(hour % 12 === 0 ? 12 : hour % 12)}${time.slice(2)} ${hour < 12 ? 'am' : 'pm'}`;
}

const part = (parts: Intl.DateTimeFormatPart[], type: string): string =>
  parts.find((p) => p.type === type)?.value ?? '';

/** `Thu 14 May`; with the year where it is not the reader's. */
export function shortDay(atMs: number, zone: string, nowMs?: number): string {
  const parts = formatIn(zone, 'short', {
    weekday: 'short',
    day: 'numeric',
    month: 'short',
    year: 'numeric',
  }).formatToParts(atMs);
  // `Sep` as the server writes it, where browsers have `Sept`.
  const month = part(parts, 'month').slice(0, 3);
  const words = inOrder(part(parts, 'weekday'), part(parts, 'day'), month);
  const otherYear = nowMs !== undefined && part(parts, 'year') !== localDate(nowMs, zone).slice(0, 4);
  return otherYear ? `${words} ${part(parts, 'year')}` : words;
}

/** `Thursday 14 May`. */
export function longDay(atMs: number, zone: string): string {
  const parts = formatIn(zone, 'long', { weekday: 'long', day: 'numeric', month: 'long' }).formatToParts(
    atMs,
  );
  return inOrder(part(parts, 'weekday'), part(parts, 'day'), part(parts, 'month'));
}

/** `Thu 14 May` for a calendar day. */
export const dateInWords = (date: string): string => shortDay(Date.parse(`${date}T12:00:00Z`), 'UTC');

/** `today 04:10`, `yesterday 22:00`, `Thu 14 May 04:10`; `today 02:10 UTC+2` where the clock shows that time twice. */
export function dayAndTime(atMs: number, zone: string, nowMs: number): string {
  const words = `${dayInWords(localDate(atMs, zone), atMs, zone, nowMs)} ${clockTime(atMs, zone)}`;
  return isShownTwice(atMs, zone) ? `${words} ${offsetInWords(zoneOffsetMs(atMs, zone))}` : words;
}

/** In the night in which clocks are put back, an hour (half an hour on Lord Howe) comes twice. */
function isShownTwice(atMs: number, zone: string): boolean {
  const offset = zoneOffsetMs(atMs, zone);
  return [-3, 3].some((hours) => {
    const other = zoneOffsetMs(atMs + hours * 3_600_000, zone);
    return other !== offset && zoneOffsetMs(atMs + offset - other, zone) === other;
  });
}

/** `UTC+2`, `UTC−3:30`. */
function offsetInWords(offsetMs: number): string {
  const total = Math.round(Math.abs(offsetMs) / 60_000);
  const rest = total % 60;
  const sign = offsetMs < 0 ? '−' : '+';
  return `UTC${sign}${String(Math.floor(total / 60))}${rest === 0 ? '' : `:${String(rest).padStart(2, '0')}`}`;
}

function dayInWords(date: string, atMs: number, zone: string, nowMs: number): string {
  return nearDay(date, localDate(nowMs, zone)) ?? shortDay(atMs, zone, nowMs);
}

/** As `dayAndTime`; the first instant of a day is that day. */
export function untilWhen(atMs: number, zone: string, nowMs: number): string {
  const date = localDate(atMs, zone);
  const begins = localDate(atMs - 1, zone) !== date;
  return begins ? dayInWords(date, atMs, zone, nowMs) : dayAndTime(atMs, zone, nowMs);
}

/** `today`, `tomorrow`, `yesterday`, or nothing. */
export function nearDay(date: string, today: string): string | undefined {
  if (date === today) return 'today';
  if (date === addDays(today, 1)) return 'tomorrow';
  if (date === addDays(today, -1)) return 'yesterday';
  return undefined;
}

/** `tomorrow, Fri 15 May`. */
export function relativeDate(date: string, today: string): string {
  const near = nearDay(date, today);
  return near ? `${near}, ${dateInWords(date)}` : dateInWords(date);
}

/** `the day she comes`, `8 days after she comes`. */
export const afterArrival = (days: number): string =>
  days === 0 ? 'the day she comes' : `${count(days, 'day')} after she comes`;

/** `20 s`, `4 min`, `3 h`, `2 days`: how old something is. */
export function age(ms: number): string {
  const seconds = Math.max(0, Math.round(ms / 1000));
  if (seconds < 60) return `${String(seconds)} s`;
  const minutes = Math.round(seconds / 60);
  if (minutes < 90) return `${String(minutes)} min`;
  const hours = Math.round(minutes / 60);
  if (hours < 48) return `${String(hours)} h`;
  return `${String(Math.round(hours / 24))} days`;
}

/** `1440 (24 h)`: minutes are also told in hours or days. */
export function inHours(minutes: number): string {
  if (minutes < 120 || minutes % 60 !== 0) return '';
  return minutes >= 2880 && minutes % 1440 === 0
    ? ` (${String(minutes / 1440)} days)`
    : ` (${String(minutes / 60)} h)`;
}

/** The zone in words, where the site's clock differs from that of this device; otherwise nothing. */
export function zoneNote(zone: string, deviceZone: string, atMs: number): string {
  if (zoneOffsetMs(atMs, zone) === zoneOffsetMs(atMs, deviceZone)) return '';
  return `${zone.replaceAll('_', ' ')} time`;
}

let zoneHere: { readonly name: string; readonly offset: number } | undefined;

/** Asking the browser costs 100 times as much as the look at the offset that shows whether the answer still holds. */
export function deviceZone(): string {
  const offset = new Date().getTimezoneOffset();
  if (zoneHere?.offset !== offset)
    zoneHere = { name: new Intl.DateTimeFormat().resolvedOptions().timeZone, offset };
  return zoneHere.name;
}
