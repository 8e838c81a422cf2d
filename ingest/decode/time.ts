/** When a reading was true: the sensor's own time, judged against the moment of receipt. */
import { Temporal } from 'temporal-polyfill';
import { read, shown, unread, type Read } from './message.ts';

/** Times before this (9 September 2001) come from a clock that was never set: 1970, or 2000 in many clock chips. */
const earliestS = 1_000_000_000;
/** Seconds stay below this until the year 5138, milliseconds are above it since 1973. */
const secondsBelow = 1e11;
const millisecondsBelow = 1e14;
/** Farther ahead than this is no longer two honest clocks that differ. */
export const futureToleranceMs = 5 * 60_000;

export interface Observed {
  readonly atMs: number;
  /** The sensor's clock is wrong; `atMs` is the moment of receipt. */
  readonly suspect?: 'clock';
}

const numeric = /^\d+(?:\.\d+)?$/;
const withOffset = /(?:[zZ]|[+-]\d{2}(?::?\d{2})?)$/;

function fromNumber(value: number): Read<number> {
  if (!Number.isFinite(value) || value < 0 || value >= millisecondsBelow) {
    return unread(`the time ${shown(value)} is neither seconds nor milliseconds since 1970`);
  }
  return read(Math.round(value < secondsBelow ? value * 1000 : value));
}

/** Where a time without an offset was written: its IANA zone, and when it came in, ms. */
export interface LocalClock {
  readonly zone: string;
  readonly receivedAtMs: number;
}

/** In the night in which clocks are put back an hour comes twice: then it is the last of the two that can have passed. */
function onClock(local: Temporal.PlainDateTime, { zone, receivedAtMs }: LocalClock): number {
  const at = (disambiguation: 'compatible' | 'later'): number =>
    local.toZonedDateTime(zone, { disambiguation }).epochMilliseconds;
  const later = at('later');
  return later <= receivedAtMs + futureToleranceMs ? later : at('compatible');
}

function fromIso(text: string, clock: LocalClock | undefined): Read<number> {
  const iso = text.trim().replace(' ', 'T');
  try {
    if (withOffset.test(iso) && iso.includes('T')) return read(Temporal.Instant.from(iso).epochMilliseconds);
    const local = Temporal.PlainDateTime.from(iso);
    if (clock === undefined) {
      return unread(
        `the time "${shown(text)}" has no offset from UTC; send one, such as Z, or name the zone in a mapping`,
      );
    }
    return read(onClock(local, clock));
  } catch {
    return unread(`the time "${shown(text)}" can't be read; use seconds, milliseconds or ISO 8601`);
  }
}

/** Seconds or milliseconds since 1970, or ISO 8601; without an offset only where `clock` says what is meant. */
export function readInstant(value: unknown, clock?: LocalClock): Read<number> {
  if (typeof value === 'number') return fromNumber(value);
  if (typeof value !== 'string') return unread(`the time ${shown(value)} is neither a number nor text`);
  return numeric.test(value.trim()) ? fromNumber(Number(value)) : fromIso(value, clock);
}

/**
 * A clock that was never set, or that is ahead, is not believed: the moment of receipt counts, flagged. Where the
 * server's own clock is the one that was never set (a small board after a power cut), a sensor that knows the time is
 * believed, and what comes without a time is flagged.
 */
export function judge(claimedMs: number | undefined, receivedAtMs: number): Observed {
  const unset = receivedAtMs < earliestS * 1000;
  if (claimedMs === undefined)
    return unset ? { atMs: receivedAtMs, suspect: 'clock' } : { atMs: receivedAtMs };
  if (unset && claimedMs >= earliestS * 1000) return { atMs: claimedMs };
  const wrong = claimedMs < earliestS * 1000 || claimedMs > receivedAtMs + futureToleranceMs;
  return wrong ? { atMs: receivedAtMs, suspect: 'clock' } : { atMs: claimedMs };
}
