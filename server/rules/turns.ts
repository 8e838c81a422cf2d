/** When findings turn by the calendar alone: where to look first for the tick at which something became another. */
import { cageTooLong } from './cage-too-long.ts';
import type { NucInput, RuleInput } from './inputs.ts';
import { foragersHeldIn } from './foragers-held-in.ts';
import { foragersLeaving } from './foragers-leaving.ts';
import { layingWorkerDate } from './laying-worker-date.ts';
import { limitsFor, noLimitSettings, type LimitSettings } from './limits.ts';
import type { Rule } from './rule.ts';
import { virginMayBeOut } from './virgin-may-be-out.ts';
import { visitDue } from './visit-due.ts';
import { visitOverdue } from './visit-overdue.ts';

const hourMs = 3_600_000;
const dayMs = 24 * hourMs;

/** Instants, ms, in no order; a hint and no promise that nothing turns at others. */
export const turnsMs = (inputs: readonly RuleInput[], settings: LimitSettings = noLimitSettings): number[] =>
  inputs.flatMap((input) => (input.on === 'nuc' ? turnsOf(input, settings) : []));

/**
 * Instants at which the calendar may begin what readings end again, or end what they began: something may come and go there
 * within hours, with nothing to be seen of it long before and long after. ms, in no order.
 */
export const boundsMs = (inputs: readonly RuleInput[], settings: LimitSettings = noLimitSettings): number[] =>
  inputs.flatMap((input) => (input.on === 'nuc' ? boundsOf(input, settings) : []));

/** A step that is due at once moves on with the clock. */
const dueMs = 10 * 60_000;

function boundsOf({ plan, introduction, subject, nowMs }: NucInput, settings: LimitSettings): number[] {
  const set = (rule: Rule, name: string): number => limitsFor(rule, subject, settings)[name] ?? 0;
  const splitMs = introduction?.splitAtMs;
  const visits = plan.filter(({ done, targetMs }) => !done && targetMs > nowMs + dueMs);
  return [
    ...(splitMs == null ? [] : [splitMs + set(foragersHeldIn, 'afterDays') * dayMs]),
    ...visits.flatMap(({ kind, targetMs }) => [
      targetMs - set(visitDue, 'aheadH') * hourMs,
      targetMs + 1,
      ...(kind === 'cut-cells' ? [targetMs - set(foragersLeaving, 'beforeCutH') * hourMs] : []),
    ]),
    ...[introduction?.broodChangesAtMs, introduction?.handsOffUntilMs].filter((atMs) => atMs != null),
  ];
}

function turnsOf({ plan, introduction, subject }: NucInput, settings: LimitSettings): number[] {
  const set = (rule: Rule, name: string): number => limitsFor(rule, subject, settings)[name] ?? 0;
  const visits = plan.flatMap(({ done, earliestMs, targetMs, latestMs }) =>
    done
      ? []
      : [
          earliestMs,
          targetMs - set(visitDue, 'aheadH') * hourMs,
          // A step whose time has passed moves on to the next day.
          targetMs + 1,
          latestMs + set(visitOverdue, 'graceH') * hourMs + 1,
        ],
  );
  if (!introduction) return visits;
  const { virgin, layingWorkersWatchMs: watchMs, layingWorkersLikelyMs: likelyMs } = introduction;
  const { queenCagedSinceMs: cagedMs, handsOffUntilMs } = introduction;
  const before = (atMs: number | null | undefined, lead: number): number[] =>
    atMs == null ? [] : [atMs - lead];
  return [
    ...visits,
    ...before(virgin?.possibleFromMs, set(virginMayBeOut, 'aheadH') * hourMs),
    ...before(watchMs, set(layingWorkerDate, 'aheadDays') * dayMs),
    ...before(likelyMs, 0),
    ...before(cagedMs, -set(cageTooLong, 'days') * dayMs),
    ...before(handsOffUntilMs, 0),
  ];
}
