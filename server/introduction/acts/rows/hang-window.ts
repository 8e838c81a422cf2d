/** When she hangs: the day she is at hand, or in the visit of the cut; and the last look before she is let out. */
import { calmAfterBallingDays, foragersLeaveDays, queenWaitsDays } from '../../../biology/figures.ts';
import { onDayAt, startOfDayAfter } from '../../calendar.ts';
import { lastOf, ofKind } from '../../log/effective-facts.ts';
import { hangWindow, late, nextVisit, type Clock, type StepWindow } from '../days/plan-windows.ts';
import { foragersStay } from '../../log/move-distance.ts';
import { inHand } from '../../queen/queen-state.ts';
import type { IntroductionState } from '../../state.ts';
import { latestOf, type Situation } from '../situation.ts';
import type { Draft } from '../draft.ts';
import { cutOnTheDay, cutTwice, nothingToCut } from '../starts.ts';
import { lookedToday, ownRelease } from './cuts.ts';
import { enoughBeesSinceMs, tooFewBees } from './hang-conditions.ts';
import { nextWorkersLookMs } from './worker-conditions.ts';

/** What stood against a queen in this nuc was last settled then: a frame told, a loose queen was taken away; -Infinity without any. */
const settledMs = ({ testFrames, facts }: IntroductionState): number =>
  Math.max(
    ...testFrames.map(({ outMs }) => outMs ?? -Infinity),
    ...ofKind(facts, 'queen-removed').map(({ atMs }) => atMs),
    -Infinity,
  );

/** What kept every queen out was last over then: signs of disease were ruled out, or bees added; -Infinity without any. */
const admittedMs = (state: IntroductionState): number =>
  Math.max(
    ...ofKind(state.facts, 'brood-disease').map(({ atMs, fact }) =>
      fact.found === 'ruled-out' ? atMs : -Infinity,
    ),
    enoughBeesSinceMs(state),
  );

/** The bees have had the days that they need after a balling. */
const calmMs = ({ signs: { balledAtMs }, setup }: IntroductionState): number =>
  balledAtMs === null ? -Infinity : startOfDayAfter(balledAtMs, calmAfterBallingDays.value, setup.timeZone);

/** In a split without brood she is let out when the old bees, which bite strange queens, have flown home. Common practice. */
const oldBeesGoneMs = ({ split, facts }: IntroductionState, { visitHour, timeZone }: Clock): number =>
  split === null || foragersStay(facts)
    ? -Infinity
    : onDayAt(split.atMs, foragersLeaveDays.value, visitHour, timeZone);

/** The day on which the last cell is cut, or the last frame tells: she is let out on it or after it. */
export function lastLookMs(situation: Situation, fromMs: number): number {
  const { state, draftOf, nowMs, clock } = situation;
  const frameMs = draftOf('test-frame-out')?.targetMs ?? -Infinity;
  const base = (): number => {
    const cut = draftOf('cut-cells');
    if (cutOnTheDay(state))
      return (cut?.done ? lookedToday(state)?.atMs : undefined) ?? cut?.targetMs ?? fromMs;
    if (nothingToCut(state)) {
      return Math.max(
        lastOf(state.looks.complete)?.atMs ?? draftOf('look-through')?.targetMs ?? nowMs,
        fromMs,
        oldBeesGoneMs(state, clock),
      );
    }
    const more = draftOf('one-more-look')?.targetMs;
    return more ?? state.looks.second?.atMs ?? draftOf('second-look')?.targetMs ?? fromMs;
  };
  const calm = calmMs(state);
  const workersMs = state.queen.inCageSinceMs === null ? -Infinity : nextWorkersLookMs(situation);
  return Math.max(
    base(),
    frameMs,
    settledMs(state),
    workersMs,
    calm > -Infinity ? nextVisit(calm, clock) : calm,
  );
}

/**
 * The cut that she may wait for in her mailing cage, and how long she may; null elsewhere. One that is weak goes to the
 * bees at once, and bees that are too few are added before.
 */
function cutToWaitFor({ state, draftOf, clock }: Situation): { cut: Draft; lastMs: number } | null {
  const { queen } = state;
  const weak = latestOf(state, 'queen-arrived')?.fact.condition === 'weak' || tooFewBees(state);
  if (!cutTwice(state) || queen.where !== 'arrived' || queen.arrivedAtMs === null || weak) return null;
  const lastMs = startOfDayAfter(queen.arrivedAtMs, queenWaitsDays.value + 1, clock.timeZone);
  const cut = draftOf('cut-cells');
  return cut && !cut.done ? { cut, lastMs } : null;
}

/** The visit of the cut, where that is so near that she waits for it; null elsewhere. */
export function waitsForCutMs(situation: Situation): number | null {
  const waits = cutToWaitFor(situation);
  return waits && waits.cut.targetMs < waits.lastMs ? waits.cut.targetMs : null;
}

/** The first day of the cut, where she could wait for it: one that is put off since moves her last day no more. */
function firstCutMs(situation: Situation): number | null {
  const waits = cutToWaitFor(situation);
  return waits && waits.cut.earliestMs < waits.lastMs ? waits.cut.earliestMs : null;
}

/** A queen that is at hand hangs the day she is at hand or with the cut, and every day after it is due again. */
function atHandWindow(situation: Situation, fromMs: number): StepWindow {
  const { state, nowMs, clock } = situation;
  const { queen } = state;
  const atHandMs = queen.lastSeenAtMs ?? queen.arrivedAtMs ?? nowMs;
  const earliestMs = Math.max(fromMs, atHandMs, settledMs(state), admittedMs(state));
  const today = onDayAt(nowMs, 0, clock.visitHour, clock.timeZone);
  const cutMs = waitsForCutMs(situation) ?? -Infinity;
  return {
    earliestMs,
    targetMs: Math.max(earliestMs, today, cutMs),
    latestMs:
      startOfDayAfter(Math.max(earliestMs, firstCutMs(situation) ?? -Infinity), 2, clock.timeZone) - 1,
  };
}

function plannedHang(situation: Situation, fromMs: number): StepWindow {
  const { state, nowMs, clock, draftOf } = situation;
  const { queen, setup, looks } = state;
  const queenMs = queen.cageHungAtMs ?? queen.arrivedAtMs ?? setup.expectedQueenMs ?? null;
  const openMs = lastLookMs(situation, fromMs);
  const mesh = setup.method === 'push-in-cage';
  const hangMs = (): number => {
    if (cutOnTheDay(state)) return mesh ? ownRelease(situation, fromMs).hang.targetMs : openMs;
    if (nothingToCut(state)) return draftOf('look-through')?.targetMs ?? fromMs;
    return looks.firstLate?.atMs ?? draftOf('cut-cells')?.targetMs ?? fromMs;
  };
  return late(hangWindow(fromMs, hangMs(), queenMs, openMs, clock), nowMs, clock);
}

/** Where she hangs, or will. */
export const hang = (situation: Situation, fromMs: number): StepWindow =>
  inHand(situation.state.queen) ? atHandWindow(situation, fromMs) : plannedHang(situation, fromMs);
