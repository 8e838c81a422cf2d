/** A test frame, suggested where only it can tell whether a queen of some kind is in the box. */
import type { Sentence } from '../words/phrase.ts';
import { lookAgainForQueenDays, testFrameDays, highEnd, lowEnd } from '../biology/figures.ts';
import { lastOf, ofKind } from './effective-facts.ts';
import { late, nextVisit, type Clock, type StepWindow } from './plan-windows.ts';
import { onDayAt, startOfDayAfter } from './calendar.ts';
import type { IntroductionState } from './state.ts';

interface TestFrameDraft extends StepWindow {
  readonly kind: 'test-frame-in' | 'test-frame-out';
  readonly why: readonly Sentence[];
  readonly done?: { readonly atMs: number; readonly factId: string };
}

/** Looks that must have missed her before a test frame is worth its trouble. */
const looksBeforeTestFrame = 2;

/** Looks enough have missed her, and no test frame has said since that a queen is there: that one is looked for again. */
export function searchedEnough({ queen, testFrames }: IntroductionState): boolean {
  const missedMs = lastOf(queen.notFoundAtMs) ?? Infinity;
  const last = lastOf(testFrames);
  const queenThere = last?.answer === 'maybe-a-queen' && last.inMs >= missedMs;
  return queen.notFoundAtMs.length >= looksBeforeTestFrame && !queenThere;
}

/** So many frames in a row without a cell leave no doubt that a queen of some kind is there. */
const framesWithoutCells = 2;

/**
 * After a frame without cells the queen that held the bees back is looked for before another one is given; after two in a
 * row no other tells more.
 */
export function heldBack({ testFrames, setup, nowMs }: IntroductionState): 'find-her' | 'unite' | null {
  const last = lastOf(testFrames);
  if (last?.answer !== 'maybe-a-queen' || last.outMs === null) return null;
  const inARow = testFrames.length - 1 - testFrames.findLastIndex(({ answer }) => answer !== 'maybe-a-queen');
  if (inARow >= framesWithoutCells) return 'unite';
  return nowMs < startOfDayAfter(last.outMs, lookAgainForQueenDays.value, setup.timeZone) ? 'find-her' : null;
}

/**
 * A frame tells of queens that are out; others can come from cells that stand. So a complete look comes first, and no
 * virgin of a cell that was started since.
 */
export const frameTells = ({ looks, testFrames, virgin, nowMs }: IntroductionState): boolean => {
  const outSinceLook = virgin.possibleFromMs !== null && nowMs >= virgin.possibleFromMs;
  return (looks.complete.length > 0 && !outSinceLook) || lastOf(testFrames)?.answer === 'still-in';
};

/** Why a test frame is worth its trouble now; null where nothing is unclear. */
function testFrameWanted(state: IntroductionState): string | null {
  const { virgin, evidence, queen, outcome, day0Ms, signs } = state;
  if (day0Ms === null || outcome || signs.layingWorkers) return null;
  if (searchedEnough(state)) return 'She was not found by two looks, days apart.';
  if (queen.releasedAtMs !== null) return null;
  if (virgin.loose === 'possible' && virgin.settledBy !== null && frameTells(state))
    return `A virgin may be loose: ${virgin.why}.`;
  if (evidence.queenless === 'contradicted') return `A queen may be there: ${evidence.queenlessWhy}.`;
  const last = lastOf(state.testFrames);
  return last?.answer === 'still-in' ? 'A test frame is in.' : null;
}

const outWindow = (inMs: number, clock: Clock): StepWindow => ({
  earliestMs: inMs + lowEnd(testFrameDays) * 24 * 3_600_000,
  targetMs: onDayAt(inMs, testFrameDays.value, clock.visitHour, clock.timeZone),
  latestMs: startOfDayAfter(inMs, highEnd(testFrameDays) + 1, clock.timeZone) - 1,
});

/** `because`: why the gate asks for one, beside what the log alone tells. */
export function testFramePlan(
  state: IntroductionState,
  clock: Clock,
  because: Sentence | null = null,
): readonly TestFrameDraft[] {
  const wanted = testFrameWanted(state) ?? because;
  if (!wanted || heldBack(state)) return [];
  const last = lastOf(state.testFrames);
  if (last?.answer === 'still-in') {
    const added = lastOf(ofKind(state.facts, 'brood-frame-added').filter(({ fact }) => fact.asTestFrame));
    const done = added ? { done: { atMs: added.atMs, factId: added.id } } : {};
    return [
      {
        earliestMs: last.inMs,
        targetMs: last.inMs,
        latestMs: last.inMs,
        kind: 'test-frame-in',
        why: [wanted],
        ...done,
      },
      {
        ...late(outWindow(last.inMs, clock), state.nowMs, clock),
        kind: 'test-frame-out',
        why: ['Cells are started within one to two days.'],
      },
    ];
  }
  const targetMs = nextVisit(state.nowMs, clock);
  const putIn: StepWindow = {
    earliestMs: state.nowMs,
    targetMs,
    latestMs: startOfDayAfter(targetMs, 4, clock.timeZone),
  };
  return [
    { ...putIn, kind: 'test-frame-in', why: [wanted] },
    {
      ...outWindow(targetMs, clock),
      kind: 'test-frame-out',
      why: ['Cells are started within one to two days.'],
    },
  ];
}
