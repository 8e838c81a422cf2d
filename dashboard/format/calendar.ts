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

/** What the browser's tables say, by its slow way: through words. */
function offsetFromTables(atMs: number, zone: string): number {
  const parts = formatIn(zone, 'wall', {
    year: 'numeric',
    month: 'numeric',
    day: 'numeric',
    hour: 'numeric',
    minute: 'numeric',
    second: 'numeric',
  }).formatToParts(atMs);
  const of = (type: string): number => Number(parts.find((part) => part.type === type)?.value);
  const asUtc = Date.UTC(of('year'), of('month') - 1, of('day'), of('hour'), of('minute'), of('second'));
  return asUtc - Math.floor(atMs / 1000) * 1000;
}

/** Clocks are not changed twice within so short a stretch: where both its ends agree, all between does. */
const stretchMs = 6 * 3_600_000;
/** A season's chart touches about a thousand. */
const mostStretches = 10_000;
const offsetsAtStart = new Map<string, number>();

function offsetAtStart(stretch: number, zone: string): number {
  const key = `${zone} ${String(stretch)}`;
  let offset = offsetsAtStart.get(key);
  if (offset === undefined) {
    if (offsetsAtStart.size >= mostStretches) offsetsAtStart.clear();
    offset = offsetFromTables(stretch * stretchMs, zone);
    offsetsAtStart.set(key, offset);
  }
  return offset;
}

/** How far the site's clock is ahead of UTC at an instant, ms. */
export function zoneOffsetMs(atMs: number, zone: string): number {
  const stretch = Math.floor(atMs / stretchMs);
  const before = offsetAtStart(stretch, zone);
  return before === offsetAtStart(stretch + 1, zone) ? before : offsetFromTables(atMs, zone);
}

/** An instant whose UTC parts are those of the site's wall clock. */
const wallClock = (atMs: number, zone: string): string =>
  new Date(Math.floor(atMs) + zoneOffsetMs(atMs, zone)).toISOString();

/** The calendar day at the site. */
export const localDate = (atMs: number, zone: string): string => wallClock(atMs, zone).slice(0, 10);

/** `HH:MM` at the site. */
export const localTime = (atMs: number, zone: string): string => wallClock(atMs, zone).slice(11, 16);

/**
 * The instant at which the site's clock shows this day and time. Shown twice (autumn), the first; never shown (the
 * spring gap), the instant as far after the jump as the time lies after its start: what Temporal calls `compatible`.
 * NaN where the day or the time was left empty.
 */
export function instantAt(date: string, time: string, zone: string): number {
  const asUtc = Date.parse(`${date}T${time}Z`);
  if (Number.isNaN(asUtc)) return asUtc;
  const before = asUtc - zoneOffsetMs(asUtc - 86_400_000, zone);
  const after = asUtc - zoneOffsetMs(asUtc + 86_400_000, zone);
  const shows = (atMs: number): boolean => atMs + zoneOffsetMs(atMs, zone) === asUtc;
  const first = Math.min(before, after);
  if (shows(first)) return first;
  return shows(before) ? before : shows(after) ? after : before;
}

/** As `instantAt`, for the wire. Throws a sentence where the day or the time was left empty. */
export function isoAt(date: string, time: string, zone: string): string {
  const atMs = instantAt(date, time, zone);
  if (Number.isNaN(atMs)) throw new Error('Say on which day, and at what time.');
  return new Date(atMs).toISOString();
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
