/** The spans of a day rail, derived from the evidence on the last fertile egg and on queenlessness. */
import { developmentMs } from '../../biology/duration.ts';
import {
  eggStageDays,
  firstVirginDays,
  layingWorkersLikelyDays,
  layingWorkersWatchDays,
  openBroodUntilDays,
  queenEmergesDays,
  rearableLimitDays,
  workerEmergesDays,
  highEnd,
  lowEnd,
} from '../../biology/figures.ts';
import { startOfDayAfter } from '../calendar.ts';
import { firstCutDay } from '../../biology/practice-figures.ts';
import type { Interval } from '../log/setup.ts';

export interface Span {
  readonly fromMs: number;
  readonly untilMs: number;
}

/** Null where the evidence does not bound it. */
export interface Windows {
  /** Larvae from which workers could still raise a queen. */
  readonly rearableLarvae: Span | null;
  /** By this instant the last of them is too old, with the spread of the egg stage. */
  readonly nothingRearableFromMs: number | null;
  /** A complete cut from this calendar day on counts as late enough. */
  readonly lateCutFromMs: number | null;
  /** Virgins may emerge from emergency cells that nobody cut. */
  readonly virginPossible: Span | null;
  readonly openBroodUntilMs: number | null;
  readonly sealedBroodUntilMs: number | null;
  readonly layingWorkersWatchFromMs: number | null;
  readonly layingWorkersLikelyFromMs: number | null;
  /** Seen after this, eggs are not from the queen that was lost. */
  readonly eggsOutOfTimeFromMs: number | null;
}

const after = (atMs: number | null, days: number): number | null =>
  atMs === null ? null : atMs + developmentMs(days);

const span = (fromMs: number | null, untilMs: number | null): Span | null =>
  fromMs === null || untilMs === null || fromMs > untilMs ? null : { fromMs, untilMs };

/**
 * `lateFromMs`: the last egg that the day of the cut is counted from; `hopelessFromMs`: it was found without young brood then, so
 * that nobody knows since when: workers may lay already.
 */
export function deriveWindows(
  egg: Interval,
  queenless: Interval,
  timeZone: string,
  lateFromMs = egg.latestMs,
  hopelessFromMs: number | null = null,
): Windows {
  const { latestMs } = egg;
  const sinceMs = queenless.earliestMs ?? egg.earliestMs;
  return {
    rearableLarvae: span(sinceMs ?? latestMs, after(latestMs, rearableLimitDays.value)),
    nothingRearableFromMs: after(latestMs, highEnd(rearableLimitDays)),
    lateCutFromMs: lateFromMs === null ? null : startOfDayAfter(lateFromMs, firstCutDay.value, timeZone),
    virginPossible: span(
      after(sinceMs ?? latestMs, lowEnd(firstVirginDays)),
      after(latestMs, highEnd(queenEmergesDays)),
    ),
    openBroodUntilMs: after(latestMs, openBroodUntilDays.value),
    sealedBroodUntilMs: after(latestMs, workerEmergesDays.value),
    layingWorkersWatchFromMs: after(sinceMs, layingWorkersWatchDays.value) ?? hopelessFromMs,
    layingWorkersLikelyFromMs:
      after(sinceMs, layingWorkersLikelyDays.value) ??
      after(hopelessFromMs, layingWorkersLikelyDays.value - layingWorkersWatchDays.value),
    eggsOutOfTimeFromMs: after(latestMs, highEnd(eggStageDays)),
  };
}
