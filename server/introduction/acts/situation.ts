/** What the rows of the table of acts read. */
import { onDayAt, startOfDay, startOfDayAfter } from '../calendar.ts';
import { rivalChanceLimit, splitBeforeArrivalDays, usualVisitHour } from '../../biology/figures.ts';
import { lastOf, ofKind, type EffectiveFact } from '../log/effective-facts.ts';
import type { FactKind } from '../log/facts.ts';
import { inHand } from '../queen/queen-state.ts';
import type { GateEvidence } from './gate.ts';
import type { PlanOptions } from './plan-step.ts';
import { late, nextVisit, splitInstant, type Clock, type StepWindow } from './days/plan-windows.ts';
import type { IntroductionState } from '../state.ts';
import type { ActKind, Asked, Draft } from './draft.ts';
import { lazy } from '../../lazily.ts';
import { oldQueenToBeFound } from './starts.ts';
import { missedCellsCondition, type MissedCells } from './missed-cells-condition.ts';

export interface Situation {
  readonly state: IntroductionState;
  readonly nowMs: number;
  readonly evidence: GateEvidence;
  readonly options: PlanOptions;
  readonly clock: Clock;
  /** Where the days are counted from; null while neither a split nor an arrival has a date. */
  readonly fromMs: number | null;
  /** How sure the cuts are; null before the second look. */
  readonly sure: () => MissedCells | null;
  /** The place of another act; null where it makes no sense. */
  readonly draftOf: (kind: ActKind) => Draft | null;
}

/** The chance of a rival, or of laying workers, above which she is not let out: the keeper's, else the standard. */
export const chanceLimitOf = ({ evidence }: Situation): number =>
  evidence.chanceLimit ?? rivalChanceLimit.value;

/** Days count from the split, from the day (planned as a split is) on which the old queen was taken, or from the first entry. */
function countedFrom(state: IntroductionState, clock: Clock): number | null {
  if (!oldQueenToBeFound(state)) return splitInstant(state, clock);
  const { setup, nowMs, queen } = state;
  const dayOf = (atMs: number): number => startOfDay(atMs, clock.timeZone);
  // With a queen in the hand since yesterday it is today, whatever the hour is; a day that the keeper chose stands.
  const waits = inHand(queen) && dayOf(queen.arrivedAtMs ?? nowMs) < dayOf(nowMs);
  if (waits && dayOf(setup.plannedSplitMs ?? nowMs) <= dayOf(nowMs))
    return onDayAt(nowMs, 0, clock.visitHour, clock.timeZone);
  const meant =
    setup.plannedSplitMs ??
    (setup.expectedQueenMs === undefined
      ? nowMs
      : onDayAt(setup.expectedQueenMs, -splitBeforeArrivalDays.value, clock.visitHour, clock.timeZone));
  return dayOf(meant) < dayOf(nowMs) || meant === nowMs ? nextVisit(nowMs, clock) : meant;
}

export function situationOf(
  state: IntroductionState,
  evidence: GateEvidence,
  options: PlanOptions,
  rowDraft: (kind: ActKind, situation: Situation) => Draft | null,
): Situation {
  const clock: Clock = {
    timeZone: state.setup.timeZone,
    visitHour: options.visitHour ?? usualVisitHour.value,
  };
  const drafts = new Map<ActKind, Draft | null>();
  const situation: Situation = {
    state,
    nowMs: state.nowMs,
    evidence,
    options,
    clock,
    fromMs: countedFrom(state, clock),
    sure: lazy(() => missedCellsCondition(state, evidence.chanceLimit, state.nowMs)),
    draftOf: (kind) => {
      const known = drafts.get(kind);
      if (known !== undefined) return known;
      const draft = rowDraft(kind, situation);
      drafts.set(kind, draft);
      return draft;
    },
  };
  return situation;
}

export const doneBy = (fact: Pick<EffectiveFact, 'id' | 'atMs'> | undefined): Draft['done'] =>
  fact && { atMs: fact.atMs, factId: fact.id };

export const lookDone = (
  look: { readonly atMs: number; readonly factId: string } | null | undefined,
): Draft['done'] => (look ? { atMs: look.atMs, factId: look.factId } : undefined);

export const latestOf = <K extends FactKind>(
  state: IntroductionState,
  kind: K,
): EffectiveFact<K> | undefined => lastOf(ofKind(state.facts, kind));

/** Today, or on the day from which on it may be done, and within two days. */
export function soon({ nowMs, clock }: Pick<Situation, 'nowMs' | 'clock'>, fromMs = nowMs): StepWindow {
  const earliestMs = fromMs > nowMs ? fromMs : startOfDay(nowMs, clock.timeZone);
  const targetMs =
    fromMs > nowMs ? nextVisit(fromMs, clock) : onDayAt(nowMs, 0, clock.visitHour, clock.timeZone);
  // The same last day before that instant and after it.
  return {
    earliestMs,
    targetMs,
    latestMs: startOfDayAfter(Math.max(fromMs, earliestMs), 2, clock.timeZone) - 1,
  };
}

/** Wanted since then, or from then on: while it is not done it is planned for today, and its last day stays. */
export const soonSince = (situation: Pick<Situation, 'nowMs' | 'clock'>, sinceMs: number): StepWindow => {
  const { nowMs, clock } = situation;
  return sinceMs > nowMs ? soon(situation, sinceMs) : late(soon({ nowMs: sinceMs, clock }), nowMs, clock);
};

/** Another act waits for it: at the next visit. */
export const soonFor = (situation: Situation, { because, fromMs, sinceMs }: Asked): Draft => ({
  ...(sinceMs === undefined ? soon(situation, fromMs) : soonSince(situation, sinceMs)),
  why: [because],
});
