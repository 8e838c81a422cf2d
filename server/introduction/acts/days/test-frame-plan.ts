/** A test frame, suggested where only it can tell whether a queen of some kind is in the box. */
import { developmentMs } from '../../../biology/duration.ts';
import type { Sentence } from '../../../words/phrase.ts';
import {
  lookAgainForQueenDays,
  secondLookAfterDays,
  testFrameDays,
  highEnd,
  lowEnd,
  testFrameWindowDays,
  shortestCellDays,
} from '../../../biology/figures.ts';
import { cutTwice, nothingToCut } from '../starts.ts';
import { sentence } from '../../../words/sentence.ts';
import { lastOf, ofKind } from '../../log/effective-facts.ts';
import { late, nextVisit, type Clock, type StepWindow } from './plan-windows.ts';
import { earliestLook } from '../../queen/earliest-look.ts';
import { mayBeOut, strangerSeen } from '../../queen/queen-state.ts';
import { chanceIsSmall } from '../../cells/virgin-risk.ts';
import { queenToFind } from '../../brood/shown-queenless.ts';
import { dayNumber, onDayAt, startOfDay, startOfDayAfter } from '../../calendar.ts';
import type { IntroductionState } from '../../state.ts';

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
 * row no other tells more. One that went in before a queen was let out tells nothing of her.
 */
export function heldBack({
  testFrames,
  queen,
  setup,
  nowMs,
}: IntroductionState): 'find-her' | 'unite' | null {
  const frames = testFrames.filter(({ inMs }) => inMs >= (queen.releasedAtMs ?? -Infinity));
  const last = lastOf(frames);
  if (last?.answer !== 'maybe-a-queen' || last.outMs === null) return null;
  const inARow = frames.length - 1 - frames.findLastIndex(({ answer }) => answer !== 'maybe-a-queen');
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

interface Wanted {
  readonly why: Sentence;
  /** It tells as much after the cut that counts, and goes in and out in visits that are made anyway. */
  readonly waitsForCut?: boolean;
}

/** Why a test frame is worth its trouble now; null where nothing is unclear. */
function testFrameWanted(state: IntroductionState, chanceLimit: number): Wanted | null {
  const { virgin, evidence, queen, day0Ms, signs } = state;
  if (day0Ms === null) return null;
  const stillIn = lastOf(state.testFrames)?.answer === 'still-in' ? { why: 'A test frame is in.' } : null;
  // None is given to them, and one that is in may show that they are none.
  if (signs.layingWorkers) return stillIn;
  if (searchedEnough(state)) return { why: 'She was not found by two looks, days apart.' };
  if (queen.releasedAtMs !== null) return stillIn;
  if (virgin.loose === 'possible' && !chanceIsSmall(virgin, chanceLimit) && frameTells(state))
    return { why: `A virgin may be loose: ${virgin.why}.`, waitsForCut: evidence.queenless === 'shown' };
  // Of one that is looked for a frame tells nothing more.
  if (evidence.queenless === 'contradicted' && !queenToFind(evidence) && !strangerSeen(queen))
    return { why: `A queen may be there. ${sentence(evidence.queenlessWhy)}` };
  const lookedThrough = lastOf(state.looks.complete)?.youngestBrood ?? 'not-looked';
  if (nothingToCut(state) && evidence.queenless === 'not-shown' && lookedThrough !== 'not-looked')
    return { why: 'Nothing shows yet that no queen is there.' };
  return stillIn;
}

/** What the log tells asks for a frame since its last entry, or since she need not be looked for any more before one. */
function wantedSinceMs({ testFrames, facts, setup, nowMs }: IntroductionState): number {
  const searched = [
    lastOf(ofKind(facts, 'queen-escaped'))?.atMs,
    testFrames.findLast(({ answer }) => answer === 'maybe-a-queen')?.outMs,
  ].map((atMs) =>
    atMs == null ? -Infinity : startOfDayAfter(atMs, lookAgainForQueenDays.value, setup.timeZone),
  );
  return Math.min(Math.max(lastOf(facts)?.atMs ?? nowMs, ...searched), nowMs);
}

/** `withCut`: cells were cut in the same visit; then it comes out at the second look. */
function outWindow(inMs: number, withCut: boolean, { visitHour, timeZone }: Clock): StepWindow {
  const most = highEnd(testFrameDays);
  const days = withCut ? Math.min(secondLookAfterDays.value, most) : testFrameDays.value;
  return {
    earliestMs: inMs + lowEnd(testFrameDays) * 24 * 3_600_000,
    targetMs: onDayAt(inMs, days, visitHour, timeZone),
    latestMs: startOfDayAfter(inMs, most + 1, timeZone) - 1,
  };
}

/** When the frame that is in comes out; counted from a queen that was found and taken away meanwhile. */
function outOf(state: IntroductionState, inMs: number, clock: Clock): StepWindow {
  const taken = lastOf(ofKind(state.facts, 'queen-removed').filter(({ atMs }) => atMs >= inMs));
  const window = taken ? outWindow(taken.atMs, false, clock) : outWindow(inMs, cutWith(state, inMs), clock);
  const { queen, setup } = state;
  if (!mayBeOut(queen) || queen.releasedAtMs === null) return window;
  // Beside one that was let out in the visit that looks for her, but the day before its cells may open.
  const look = earliestLook({ ...queen, releasedAtMs: queen.releasedAtMs }, setup.method, setup.timeZone);
  const openMs = inMs + developmentMs(lowEnd(shortestCellDays));
  const leastMs = Math.min(look.leastMs, startOfDayAfter(openMs, -1, setup.timeZone));
  const earliestMs = Math.max(window.earliestMs, leastMs);
  const targetMs = Math.max(window.targetMs, nextVisit(leastMs, clock));
  return {
    earliestMs,
    targetMs,
    latestMs: Math.max(window.latestMs, startOfDayAfter(targetMs, 1, setup.timeZone) - 1),
  };
}

interface FramePlanned {
  /** Why the gate asks for one, beside what the log alone tells. */
  readonly because: Sentence | null;
  /** Since when the chance of a missed cell asks; null where the log alone tells. */
  readonly becauseSinceMs: number | null;
  /** The visit of the first cut that counts, while it is to come. */
  readonly cutMs: number | null;
  /** Up to it the chance of a virgin asks for none. */
  readonly chanceLimit: number;
}

/** Every frame was looked through, and cells cut, in the visit in which the frame went in; a second look follows. */
const cutWith = (state: IntroductionState, inMs: number): boolean =>
  cutTwice(state) &&
  state.looks.second === null &&
  state.looks.complete.some((look) => look.cut && dayNumber(look.atMs, inMs, state.setup.timeZone) === 0);

export function testFramePlan(
  state: IntroductionState,
  clock: Clock,
  { because, becauseSinceMs, cutMs, chanceLimit }: FramePlanned,
): readonly TestFrameDraft[] {
  if (state.outcome) return [];
  const told = testFrameWanted(state, chanceLimit);
  const wanted = told ?? (because === null ? null : { why: because });
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
        why: [wanted.why],
        ...done,
      },
      {
        ...late(outOf(state, last.inMs, clock), state.nowMs, clock),
        kind: 'test-frame-out',
        why: ['Cells are started within one to two days.'],
      },
    ];
  }
  const today = onDayAt(state.nowMs, 0, clock.visitHour, clock.timeZone);
  const withCut = wanted.waitsForCut === true && cutMs !== null;
  const targetMs = withCut ? Math.max(today, cutMs) : today;
  const askedMs = told ? null : becauseSinceMs;
  const sinceMs = withCut ? targetMs : (askedMs ?? wantedSinceMs(state));
  const latestMs = startOfDayAfter(sinceMs, testFrameWindowDays.value, clock.timeZone);
  const putIn: StepWindow = {
    earliestMs: Math.min(startOfDay(state.nowMs, clock.timeZone), latestMs),
    targetMs,
    latestMs,
  };
  return [
    { ...putIn, kind: 'test-frame-in', why: [wanted.why] },
    {
      ...outWindow(targetMs, withCut, clock),
      kind: 'test-frame-out',
      why: ['Cells are started within one to two days.'],
    },
  ];
}
