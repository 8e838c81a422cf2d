/** When findings turn by the calendar alone: where to look first for the tick at which something became another. */
import { startOfDayAfter } from '../../introduction/calendar.ts';
import { cageTooLong } from '../catalogue/queen/cage-too-long.ts';
import type { NucInput, RuleInput } from './inputs.ts';
import { foragersHeldIn } from '../catalogue/foragers/foragers-held-in.ts';
import { foragersLeaving } from '../catalogue/foragers/foragers-leaving.ts';
import { layingWorkerDate } from '../catalogue/queen/laying-worker-date.ts';
import { limitsFor, noLimitSettings, type LimitSettings } from './limits.ts';
import type { Rule } from './rule.ts';
import { virginMayBeOut } from '../catalogue/queen/virgin-may-be-out.ts';
import { visitDue } from '../catalogue/visits/visit-due.ts';
import { visitOverdue } from '../catalogue/visits/visit-overdue.ts';
import { visitTooEarly } from '../catalogue/visits/visit-too-early.ts';

const hourMs = 3_600_000;
const dayMs = 24 * hourMs;

/** Instants, ms, in no order; a hint and no promise that nothing turns at others. */
export const turnsMs = (inputs: readonly RuleInput[], settings: LimitSettings = noLimitSettings): number[] =>
  inputs.flatMap((input) => (input.on === 'nuc' ? turnsOf(input, settings) : []));

/**
 * An instant at which the calendar may begin what readings end again, or end what they began: something may come and go there
 * within hours, with nothing to be seen of it long before and long after.
 */
export interface Bound {
  readonly atMs: number;
  /** Those that can turn there; any where absent. */
  readonly ruleIds?: ReadonlySet<string>;
  /** Those of them that readings may begin before, so that they are asked at the tick before as well. */
  readonly begunByReadings?: ReadonlySet<string>;
}

/** In no order. */
export const boundsOf = (inputs: readonly RuleInput[], settings: LimitSettings = noLimitSettings): Bound[] =>
  inputs.flatMap((input) =>
    input.on === 'nuc' ? [...boundsOfBrood(input), ...boundsOfPlan(input, settings)] : [],
  );

const boundsOfBrood = ({ introduction }: NucInput): Bound[] =>
  [introduction?.broodChangesAtMs, introduction?.handsOffUntilMs].flatMap((atMs) =>
    atMs == null ? [] : [{ atMs }],
  );

const idsOf = (rules: readonly Rule[]): ReadonlySet<string> => new Set(rules.map(({ id }) => id));
const whereVisits = idsOf([visitDue, visitOverdue, visitTooEarly]);
/** All rules whose answer hangs on the plan: the last only on its cut. */
export const planReaders = idsOf([visitDue, visitOverdue, visitTooEarly, foragersLeaving]);
const whereLeaving = idsOf([foragersLeaving]);
const whereDue = idsOf([visitDue]);
const whereHeldIn = idsOf([foragersHeldIn]);

/** A step that is due at once moves on with the clock. */
const dueMs = 10 * 60_000;

function boundsOfPlan(
  { plan, introduction, subject, nowMs, timeZone }: NucInput,
  settings: LimitSettings,
): Bound[] {
  const set = (rule: Rule, name: string): number => limitsFor(rule, subject, settings)[name] ?? 0;
  const splitMs = introduction?.splitAtMs;
  const visits = plan.filter(({ done }) => !done);
  const tomorrowMs = startOfDayAfter(nowMs, 1, timeZone);
  const bounds: Bound[] = [];
  if (splitMs != null)
    bounds.push({
      atMs: splitMs + set(foragersHeldIn, 'afterDays') * dayMs,
      ruleIds: whereHeldIn,
    });
  for (const { kind, targetMs } of visits) {
    const isCut = kind === 'cut-cells';
    const turning = isCut
      ? { ruleIds: planReaders, begunByReadings: whereLeaving }
      : { ruleIds: whereVisits };
    // A step whose day has gone by is planned for another.
    if (targetMs < tomorrowMs) bounds.push({ atMs: tomorrowMs, ...turning });
    if (targetMs <= nowMs + dueMs) continue;
    bounds.push({ atMs: targetMs - set(visitDue, 'aheadH') * hourMs, ruleIds: whereDue });
    bounds.push({ atMs: targetMs + 1, ...turning });
    if (isCut)
      bounds.push({
        atMs: targetMs - set(foragersLeaving, 'beforeCutH') * hourMs,
        ruleIds: whereLeaving,
      });
  }
  return bounds;
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
