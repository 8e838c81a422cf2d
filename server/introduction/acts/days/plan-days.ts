/** Days on which the keeper can't come, and one trip per site and day. */
import { dayNumber, hourOfDay, isoDate, onDayAt } from '../../calendar.ts';
import { staysBarred, type PlanStep } from '../plan-step.ts';

/** Moves a step to the nearest day within its window, from `nowMs` on, on which somebody can come; says so where there is none. */
export function avoidUnavailable(
  step: PlanStep,
  unavailable: readonly string[],
  timeZone: string,
  nowMs = step.earliestMs,
): PlanStep {
  const taken = new Set(unavailable);
  if (step.done || !taken.has(isoDate(step.targetMs, timeZone))) return step;
  const hour = hourOfDay(step.targetMs, timeZone);
  const back = dayNumber(step.targetMs, step.earliestMs, timeZone);
  const ahead = dayNumber(step.targetMs, step.latestMs, timeZone);
  for (let distance = 1; distance <= Math.max(ahead, -back); distance++) {
    for (const days of [distance, -distance]) {
      const at = onDayAt(step.targetMs, days, hour, timeZone);
      const isOver = dayNumber(nowMs, at, timeZone) < 0;
      const fits = !isOver && at >= step.earliestMs && at <= step.latestMs;
      if (fits && !taken.has(isoDate(at, timeZone))) return { ...step, targetMs: at };
    }
  }
  return {
    ...step,
    clashes: [...step.clashes, 'nobody can come on any day of its window: find somebody who can'],
  };
}

export interface Trip {
  /** Local date, YYYY-MM-DD. */
  readonly date: string;
  readonly siteId: string;
  readonly steps: readonly PlanStep[];
  /** Everything that the steps of the day need, each named once. */
  readonly bring: readonly string[];
}

/** A queen comes by post, and what is only offered asks for no trip. */
const asksForTrip = ({ done, offered, kind }: PlanStep): boolean =>
  !done && !offered && kind !== 'queen-arrives';

/** Steps that are not done, gathered into one trip per site and day. `siteOf` names the site of a nuc and its zone. */
export function trips(
  steps: readonly PlanStep[],
  siteOf: (nucId: string) => { readonly siteId: string; readonly timeZone: string },
): readonly Trip[] {
  const byDay = new Map<string, PlanStep[]>();
  for (const step of steps.filter(asksForTrip)) {
    const { siteId, timeZone } = siteOf(step.nucId);
    const key = `${isoDate(step.targetMs, timeZone)} ${siteId}`;
    byDay.set(key, [...(byDay.get(key) ?? []), step]);
  }
  return [...byDay.entries()]
    .toSorted(([a], [b]) => (a < b ? -1 : 1))
    .map(([key, ofDay]) => ({
      date: key.slice(0, key.indexOf(' ')),
      siteId: key.slice(key.indexOf(' ') + 1),
      steps: ofDay.toSorted((a, b) => a.targetMs - b.targetMs || (a.nucId < b.nucId ? -1 : 1)),
      bring: [...new Set(ofDay.flatMap((step) => (staysBarred(step) ? [] : step.whatToBring)))],
    }));
}
