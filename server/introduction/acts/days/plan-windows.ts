/** When each step of an introduction may, should and must be done, from the state of its log. */
import { developmentMs } from '../../../biology/duration.ts';
import {
  cageTimeDays,
  firstCutDay,
  firstVirginDays,
  handsOffDays,
  lookAgainForQueenDays,
  pushInCageDays,
  secondLookAfterDays,
  splitBeforeArrivalDays,
  workerSealedDays,
  eggsSeenAfterDays,
  shortestCellDays,
  highEnd,
  lowEnd,
  lookWindowDays,
  lookAgainForEggsDays,
  sealedBroodWindowDays,
} from '../../../biology/figures.ts';
import { addDays, onDayAt, startOfDay, startOfDayAfter } from '../../calendar.ts';
import { inHand } from '../../queen/queen-state.ts';
import type { IntroductionState } from '../../state.ts';

export interface StepWindow {
  readonly earliestMs: number;
  readonly targetMs: number;
  readonly latestMs: number;
}

/** A place on the calendar: so many days after an instant, at the keeper's hour. */
export interface Clock {
  readonly timeZone: string;
  readonly visitHour: number;
}

const on = (atMs: number, days: number, { timeZone, visitHour }: Clock): number =>
  onDayAt(atMs, days, visitHour, timeZone);
const from = (atMs: number, days: number, { timeZone }: Clock): number =>
  startOfDayAfter(atMs, days, timeZone);

/** The instant from which the plan counts: the split, made or planned, or worked back from the queen's arrival. */
export function splitInstant(
  { setup, day0Ms, nowMs, queen }: IntroductionState,
  clock: Clock,
): number | null {
  if (day0Ms !== null) return day0Ms;
  const { plannedSplitMs, expectedQueenMs } = setup;
  // A queen at hand waits for nothing else.
  if (plannedSplitMs === undefined && inHand(queen)) return catchUp(queen.arrivedAtMs ?? nowMs, nowMs, clock);
  if (plannedSplitMs === undefined && expectedQueenMs === undefined) return null;
  const meant = plannedSplitMs ?? on(expectedQueenMs ?? nowMs, -splitBeforeArrivalDays.value, clock);
  return catchUp(meant, nowMs, clock);
}

/** The day of a visit; where that has gone by without it, today, whatever the hour is. */
function catchUp(targetMs: number, nowMs: number, clock: Clock): number {
  return startOfDay(targetMs, clock.timeZone) < startOfDay(nowMs, clock.timeZone)
    ? on(nowMs, 0, clock)
    : targetMs;
}

/**
 * A step whose day has gone by is planned for today, and for now where its window ends before that hour; its latest
 * instant stays what it was. Nothing is overdue on the day for which it was planned.
 */
export function late(asked: StepWindow, nowMs: number, clock: Clock): StepWindow {
  const { targetMs, latestMs } = asked;
  const window = latestMs > targetMs ? asked : { ...asked, latestMs: from(targetMs, 1, clock) - 1 };
  const next = Math.max(catchUp(window.targetMs, nowMs, clock), window.earliestMs);
  const beforeThat = next > window.latestMs && nowMs <= window.latestMs;
  return { ...window, targetMs: beforeThat ? Math.max(nowMs, window.earliestMs) : next };
}

export function splitWindow(splitMs: number, expectedQueenMs: number | undefined, clock: Clock): StepWindow {
  if (expectedQueenMs === undefined) {
    return {
      earliestMs: startOfDay(splitMs, clock.timeZone),
      targetMs: splitMs,
      latestMs: from(splitMs, 2, clock),
    };
  }
  const latest = from(expectedQueenMs, -lowEnd(splitBeforeArrivalDays) + 1, clock) - 1;
  return {
    // A day that the keeper chose stands, however early it is.
    earliestMs: Math.min(from(expectedQueenMs, -splitBeforeArrivalDays.value - 1, clock), splitMs),
    targetMs: splitMs,
    latestMs: Math.max(latest, splitMs),
  };
}

/** The narrow window of the cut that counts: nothing left to start a cell from, no virgin out yet. */
export function cutWindow(lastEggMs: number, queenlessMs: number, clock: Clock): StepWindow {
  const earliestMs = from(lastEggMs, firstCutDay.value, clock);
  const targetMs = on(lastEggMs, firstCutDay.value, clock);
  const virginMs = queenlessMs + developmentMs(lowEnd(firstVirginDays));
  return { earliestMs, targetMs, latestMs: Math.max(virginMs, targetMs) };
}

/** A cell that the first cut missed goes on by its own clock, a cell started after it takes eight days. */
export function secondLookWindow(firstCutMs: number, clock: Clock): StepWindow {
  const missedMs = from(firstCutMs, highEnd(secondLookAfterDays) + 1, clock) - 1;
  return {
    earliestMs: from(firstCutMs, lowEnd(secondLookAfterDays), clock),
    targetMs: on(firstCutMs, secondLookAfterDays.value, clock),
    latestMs: Math.min(missedMs, firstCutMs + developmentMs(lowEnd(shortestCellDays))),
  };
}

/** `withMs`: a visit that is made anyway, on which the look tells as much. */
export function oneMoreLookWindow(
  lastLookMs: number,
  untilMs: number,
  withMs: number | null,
  clock: Clock,
): StepWindow {
  const nextDay = on(lastLookMs, 1, clock);
  const targetMs = withMs !== null && withMs > nextDay && withMs <= untilMs ? withMs : nextDay;
  return { earliestMs: from(lastLookMs, 1, clock), targetMs, latestMs: Math.max(untilMs, targetMs) };
}

/** A laying queen of one's own goes in on any day between the first and the last before a virgin may emerge. */
export function ownQueenWindow(splitMs: number, queenMs: number | null, clock: Clock): StepWindow {
  const targetMs = queenMs === null ? on(splitMs, 1, clock) : nextVisit(Math.max(queenMs, splitMs), clock);
  const latestMs = splitMs + developmentMs(lowEnd(firstVirginDays));
  return { earliestMs: splitMs, targetMs, latestMs: Math.max(latestMs, targetMs) };
}

/** She may hang from the day of the split on, and should by the day of the first cut. */
export function hangWindow(
  splitMs: number,
  cutTargetMs: number,
  queenMs: number | null,
  openMs: number,
  clock: Clock,
): StepWindow {
  const earliestMs = Math.max(splitMs, queenMs ?? splitMs);
  // In the visit of the cut where she need not wait for it.
  const waits = startOfDay(cutTargetMs, clock.timeZone) >= from(earliestMs, 2, clock);
  // The day she comes, once the post has been.
  const visitMs = queenMs === null ? cutTargetMs : Math.max(earliestMs, on(earliestMs, 0, clock));
  const targetMs = waits ? visitMs : Math.max(cutTargetMs, visitMs);
  return {
    earliestMs,
    targetMs,
    latestMs: Math.max(from(targetMs, 1, clock) - 1, openMs - developmentMs(1)),
  };
}

/** The keeper's hour on the day of an instant, or the next day's when that is past. */
export function nextVisit(atMs: number, clock: Clock): number {
  const today = on(atMs, 0, clock);
  return today >= atMs ? today : on(atMs, 1, clock);
}

/** From when on a queen that hangs since `hungMs` has hung for long enough. */
export const cageReadyMs = (hungMs: number, mesh: boolean, clock: Clock): number =>
  mesh ? from(hungMs, lowEnd(pushInCageDays), clock) : hungMs + developmentMs(1);

export function openWindow(
  lastLookMs: number,
  hungMs: number,
  queenMs: number | null,
  mesh: boolean,
  clock: Clock,
): StepWindow {
  const caged = cageReadyMs(hungMs, mesh, clock);
  const target = mesh ? on(hungMs, pushInCageDays.value, clock) : nextVisit(caged, clock);
  const earliestMs = Math.max(startOfDay(lastLookMs, clock.timeZone), caged);
  // In the same visit as the last look where the cage allows it: nobody opens the nuc twice for it.
  const targetMs = mesh && lastLookMs >= caged ? lastLookMs : Math.max(lastLookMs, target);
  const latest = addDays(queenMs ?? hungMs, highEnd(cageTimeDays), clock.timeZone);
  // Not overdue on its day, whatever the hour at which she came.
  return { earliestMs, targetMs, latestMs: Math.max(latest, from(targetMs, 1, clock) - 1) };
}

export function lookWindow(releasedMs: number, earliestMs: number, clock: Clock): StepWindow {
  return {
    earliestMs,
    targetMs: on(releasedMs, handsOffDays.value, clock),
    latestMs: from(releasedMs, handsOffDays.value + lookWindowDays.value, clock) - 1,
  };
}

export function lookAgainWindow(lookedMs: number, releasedMs: number, clock: Clock): StepWindow {
  const targetMs = on(lookedMs, lookAgainForEggsDays.value, clock);
  const latest = from(releasedMs, highEnd(eggsSeenAfterDays) + 1, clock) - 1;
  return {
    earliestMs: from(lookedMs, lowEnd(lookAgainForEggsDays), clock),
    targetMs,
    latestMs: Math.max(latest, targetMs),
  };
}

/** A queen that was not found is looked for again. */
export function searchAgainWindow(missedMs: number, clock: Clock): StepWindow {
  return {
    earliestMs: from(missedMs, lowEnd(lookAgainForQueenDays), clock),
    targetMs: on(missedMs, lookAgainForQueenDays.value, clock),
    latestMs: from(missedMs, highEnd(lookAgainForQueenDays) + 1, clock) - 1,
  };
}

export function sealedBroodWindow(firstEggsMs: number, clock: Clock): StepWindow {
  return {
    earliestMs: from(firstEggsMs, workerSealedDays.value, clock),
    targetMs: on(firstEggsMs, workerSealedDays.value + 1, clock),
    latestMs: from(firstEggsMs, workerSealedDays.value + sealedBroodWindowDays.value, clock),
  };
}
