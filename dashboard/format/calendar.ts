/** Calendar days as `YYYY-MM-DD`, and instants at a site's wall clock. Pure; zones come from the browser's own tables. */

const formats = new Map<string, Intl.DateTimeFormat>();

/** Building a formatter costs far more than using it. */
export function formatIn(
  zone: string,
  key: string,
  options: Intl.DateTimeFormatOptions,
): Intl.DateTimeFormat {
  const name = `${zone} ${key}`;
  let format = formats.get(name);
  if (!format) {
    format = new Intl.DateTimeFormat('en-GB', { ...options, timeZone: zone, hourCycle: 'h23' });
    formats.set(name, format);
  }
  return format;
}

export interface WallClock {
  readonly year: number;
  readonly month: number;
  readonly day: number;
  readonly hour: number;
  readonly minute: number;
  readonly second: number;
}

function wallClock(atMs: number, zone: string): WallClock {
  const parts = formatIn(zone, 'wall', {
    year: 'numeric',
    month: 'numeric',
    day: 'numeric',
    hour: 'numeric',
    minute: 'numeric',
    second: 'numeric',
  }).formatToParts(atMs);
  const of = (type: string): number => Number(parts.find((part) => part.type === type)?.value);
  return {
    year: of('year'),
    month: of('month'),
    day: of('day'),
    hour: of('hour'),
    minute: of('minute'),
    second: of('second'),
  };
}

const two = (n: number): string => String(n).padStart(2, '0');

/** The calendar day at the site. */
export function localDate(atMs: number, zone: string): string {
  const { year, month, day } = wallClock(atMs, zone);
  return `${String(year).padStart(4, '0')}-${two(month)}-${two(day)}`;
}

/** `HH:MM` at the site. */
export function localTime(atMs: number, zone: string): string {
  const { hour, minute } = wallClock(atMs, zone);
  return `${two(hour)}:${two(minute)}`;
}

/** How far the site's clock is ahead of UTC at an instant, ms. */
export function zoneOffsetMs(atMs: number, zone: string): number {
  const at = wallClock(atMs, zone);
  const asUtc = Date.UTC(at.year, at.month - 1, at.day, at.hour, at.minute, at.second);
  return asUtc - Math.floor(atMs / 1000) * 1000;
}

/**
 * The instant at which the site's clock shows this day and time. Shown twice (autumn), the first; never shown (the
 * spring gap), the instant as far after the jump as the time lies after its start: what Temporal calls `compatible`.
 */
export function instantAt(date: string, time: string, zone: string): number {
  const asUtc = Date.parse(`${date}T${time}Z`);
  const before = asUtc - zoneOffsetMs(asUtc - 86_400_000, zone);
  const after = asUtc - zoneOffsetMs(asUtc + 86_400_000, zone);
  const shows = (atMs: number): boolean => atMs + zoneOffsetMs(atMs, zone) === asUtc;
  const first = Math.min(before, after);
  if (shows(first)) return first;
  return shows(before) ? before : shows(after) ? after : before;
}

/** A calendar day later or earlier; no clock is involved, so no change of clocks can bend it. */
export function addDays(date: string, days: number): string {
  const at = new Date(`${date}T00:00:00Z`);
  at.setUTCDate(at.getUTCDate() + days);
  return at.toISOString().slice(0, 10);
}

export function daysBetween(from: string, to: string): number {
  return Math.round((Date.parse(`${to}T00:00:00Z`) - Date.parse(`${from}T00:00:00Z`)) / 86_400_000);
}
