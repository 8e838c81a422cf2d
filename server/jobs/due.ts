/**
 * When a job is due. Judged by its last success and never by "the clock strikes": a server that was off at
 * half past two, or a night whose half past two does not exist (daylight saving), still gets its backup.
 */
import { Temporal } from 'temporal-polyfill';

export type Rhythm =
  | { readonly kind: 'every'; readonly minutes: number }
  /** Once a calendar day in `timeZone`, from `at` (HH:MM) on. */
  | { readonly kind: 'daily'; readonly at: string; readonly timeZone: string };

/** The latest instant, at or before `nowMs`, at which a run became due. */
export function lastDueMs(rhythm: Rhythm, nowMs: number): number {
  if (rhythm.kind === 'every') {
    const period = rhythm.minutes * 60_000;
    return Math.floor(nowMs / period) * period;
  }
  const now = Temporal.Instant.fromEpochMilliseconds(nowMs).toZonedDateTimeISO(rhythm.timeZone);
  const today = dueOn(now.toPlainDate(), rhythm);
  return today <= nowMs ? today : dueOn(now.toPlainDate().subtract({ days: 1 }), rhythm);
}

/** An hour that a spring change skips moves to the first moment after the gap (`compatible`). */
function dueOn(date: Temporal.PlainDate, rhythm: { at: string; timeZone: string }): number {
  return date.toZonedDateTime({ timeZone: rhythm.timeZone, plainTime: Temporal.PlainTime.from(rhythm.at) })
    .epochMilliseconds;
}

/** Whether the job should run now, given when it last succeeded (null: never). */
export function isDue(rhythm: Rhythm, lastSuccessMs: number | null, nowMs: number): boolean {
  if (lastSuccessMs === null) return true;
  // A clock that was set back must not stop a job for as long as it was ahead.
  if (lastSuccessMs > nowMs + 60_000) return true;
  return lastSuccessMs < lastDueMs(rhythm, nowMs);
}
