/** Hours in which only what can't wait is sent: a half-open window of local time in an IANA zone. */
import { Temporal } from 'temporal-polyfill';

export interface QuietHours {
  /** HH:MM; quiet from this minute on. */
  readonly from: string;
  /** HH:MM; no longer quiet at this minute. The same as `from`: never quiet. */
  readonly to: string;
  readonly timeZone: string;
}

/** Of an unknown zone no hour can be told: whoever asks for one would fail, and with it what is sent to others. */
export function isZone(timeZone: string): boolean {
  try {
    Temporal.Instant.fromEpochMilliseconds(0).toZonedDateTimeISO(timeZone);
    return true;
  } catch {
    return false;
  }
}

/** The instant at which the quiet hours that contain `nowMs` end; null outside of them. */
export function quietUntilMs({ from, to, timeZone }: QuietHours, nowMs: number): number | null {
  const now = Temporal.Instant.fromEpochMilliseconds(nowMs).toZonedDateTimeISO(timeZone);
  const begins = Temporal.PlainTime.from(from);
  const ends = Temporal.PlainTime.from(to);
  const overnight = Temporal.PlainTime.compare(begins, ends) > 0;
  // A window that crosses midnight may have begun yesterday.
  for (const back of overnight ? [0, 1] : [0]) {
    const day = now.toPlainDate().subtract({ days: back });
    const fromMs = day.toZonedDateTime({ timeZone, plainTime: begins }).epochMilliseconds;
    const toMs = day
      .add({ days: overnight ? 1 : 0 })
      .toZonedDateTime({ timeZone, plainTime: ends }).epochMilliseconds;
    if (nowMs >= fromMs && nowMs < toMs) return toMs;
  }
  return null;
}
