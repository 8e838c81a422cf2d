/** Cutting cells: early, late enough to count, a second look, one more. */
import {
  firstCutDay,
  firstVirginDays,
  lookWorthChance,
  mostCellsByDays,
  pushInCageDays,
  secondLookAfterDays,
  lowEnd,
} from '../../../biology/figures.ts';
import { dayNumber, onDayAt, startOfDayAfter } from '../../calendar.ts';
import { chanceInWords } from '../../../words/chance.ts';
import { lastOf } from '../../log/effective-facts.ts';
import { comesMsOf, wantsQueen } from '../days/late-queen.ts';
import { leavesNoCell } from '../../log/looks.ts';
import { inHand } from '../../queen/queen-state.ts';
import {
  cageReadyMs,
  cutWindow,
  late,
  nextVisit,
  oneMoreLookWindow,
  openWindow,
  ownQueenWindow,
  secondLookWindow,
  type StepWindow,
} from '../days/plan-windows.ts';
import type { IntroductionState } from '../../state.ts';
import type { ActRow } from '../act.ts';
import type { ActKind, Draft } from '../draft.ts';
import { begun, eggsTellFromMs, hiveSigns, notClosed, present } from '../common-conditions.ts';
import { lookDone, soon, soonFor, type Situation } from '../situation.ts';
import { cutOnTheDay, cutTwice, nothingToCut } from '../starts.ts';
import { search } from '../words.ts';
import { cutConditions, weather } from './cut-conditions.ts';
import { tooFewBees } from './hang-conditions.ts';

/** Which look for cells comes next. */
export const nextCut = (state: IntroductionState): ActKind => {
  if (!cutTwice(state) || !state.looks.firstLate) return 'cut-cells';
  return state.looks.second ? 'one-more-look' : 'second-look';
};

/** The cut that can be made now: while larvae are young enough only an early one. */
export const cutNow = (state: IntroductionState, nowMs: number): ActKind => {
  if (nothingToCut(state)) return 'look-through';
  if (cutOnTheDay(state) || nowMs >= (state.windows.lateCutFromMs ?? -Infinity)) return nextCut(state);
  return 'early-cut';
};

/** The last egg is this old, as far as anything tells. */
const lastEggMs = ({ evidence }: IntroductionState, fromMs: number): number =>
  evidence.likelyLastEggMs ?? fromMs;

/** The window of a laying queen's own cut: the day on which she is let out. */
export function ownRelease(
  { state, nowMs, clock }: Situation,
  fromMs: number,
): {
  readonly hang: StepWindow;
  readonly release: StepWindow;
} {
  const { queen, setup } = state;
  const inSince = queen.inCageSinceMs ?? setup.expectedQueenMs ?? null;
  const hang = late(ownQueenWindow(fromMs, inSince, clock), nowMs, clock);
  return {
    hang,
    release:
      setup.method === 'push-in-cage'
        ? openWindow(fromMs, queen.inCageSinceMs ?? hang.targetMs, null, true, clock)
        : hang,
  };
}

export const lookedToday = ({ looks, setup, nowMs }: IntroductionState) => {
  const last = lastOf(looks.complete);
  return last && dayNumber(last.atMs, nowMs, setup.timeZone) === 0 ? last : undefined;
};

/** The bees are to be enough, and calm, before she is let out, and so before the cut of that visit. */
export const notCalm = ({ state, nowMs }: Situation): boolean =>
  state.queen.inCageSinceMs === null ? tooFewBees(state) : hiveSigns(state, nowMs).some(({ unmet }) => unmet);

function ownCut(situation: Situation, fromMs: number): Draft {
  const { state, nowMs, clock, draftOf } = situation;
  const last = lastOf(state.looks.complete);
  const done = state.queen.releasedAtMs === null ? lookedToday(state) : last;
  const window = late(ownRelease(situation, fromMs).release, nowMs, clock);
  // A test frame or a look for eggs tells first: she is not let out before.
  const frame = draftOf('test-frame-out');
  const frameMs = frame && !frame.done ? frame.targetMs : -Infinity;
  const tellsMs =
    state.evidence.queenless === 'not-shown' ? nextVisit(eggsTellFromMs(state), clock) : -Infinity;
  const targetMs = Math.max(window.targetMs, frameMs, tellsMs);
  return {
    earliestMs: window.earliestMs,
    targetMs,
    latestMs: Math.max(window.latestMs, targetMs),
    done: lookDone(done),
    // Nobody knows yet whether she can be let out that day.
    ...(!done && notCalm(situation) ? { offered: true } : {}),
    why: ['A laying queen of your own needs every cell cut on the day on which she is let out.'],
  };
}

export const cutCells: ActRow = {
  kind: 'cut-cells',
  settles: 'that no cell stands and none can be started',
  draft: (situation) => {
    const { state, fromMs, nowMs, clock } = situation;
    const { looks, evidence, queen } = state;
    if (fromMs === null || state.outcome) return doneCut(state);
    if (cutOnTheDay(state)) {
      const cut = ownCut(situation, fromMs);
      const nobodyToLetOut = queen.releasedAtMs !== null || queen.where === 'dead' || queen.where === 'gone';
      return nobodyToLetOut && !cut.done ? null : cut;
    }
    if (queen.releasedAtMs !== null && !looks.firstLate) return null;
    if (nothingToCut(state)) {
      return looks.leftStanding ? { why: ['Living cells were seen and left.'], ...soon(situation) } : null;
    }
    const queenlessMs = evidence.queenlessSince.earliestMs ?? fromMs;
    return {
      done: lookDone(looks.firstLate),
      why: [
        'From day 7 hardly a larva is young enough for another cell; before day 8½ no virgin has emerged.',
      ],
      ...late(cutWindow(lastEggMs(state, fromMs), queenlessMs, clock), nowMs, clock),
    };
  },
  asked: soonFor,
  conditions: (situation) => cutConditions(situation),
  words: () =>
    search(
      'Cut the cells',
      'cells-cut',
      'Shake the bees off every frame and destroy every queen cell. Count them and log open, sealed, emerged and torn-down cells.',
    ),
  figures: ({ state }) =>
    cutOnTheDay(state)
      ? state.setup.method === 'push-in-cage'
        ? { earliest: pushInCageDays, best: pushInCageDays }
        : { latest: firstVirginDays }
      : { earliest: firstCutDay, best: firstCutDay, latest: firstVirginDays },
};

/** After an outcome only what was done is left. */
const doneCut = (state: IntroductionState): Draft | null => {
  const { firstLate } = state.looks;
  return firstLate && cutTwice(state)
    ? {
        earliestMs: firstLate.atMs,
        targetMs: firstLate.atMs,
        latestMs: firstLate.atMs,
        done: lookDone(firstLate),
        why: [],
      }
    : null;
};

export const earlyCut: ActRow = {
  kind: 'early-cut',
  settles: 'that fewer cells stand on day 7, which stays',
  draft: (situation) => {
    const { state, draftOf, clock } = situation;
    const { looks, queen, day0Ms } = state;
    if (
      state.outcome ||
      !cutTwice(state) ||
      day0Ms === null ||
      looks.firstLate ||
      queen.releasedAtMs !== null
    )
      return null;
    const here = queen.where === 'arrived' || queen.where === 'in-cage' || queen.where === 'taken-out';
    const cutOnce = looks.all.some((look) => look.cut && leavesNoCell(look));
    if (looks.leftStanding === null && (!here || cutOnce)) return null;
    const fromMs = startOfDayAfter(day0Ms, lowEnd(mostCellsByDays), clock.timeZone);
    const window = soon(situation, looks.leftStanding ? undefined : fromMs);
    const cut = draftOf('cut-cells');
    if (!cut || window.targetMs >= cut.earliestMs) return null;
    return {
      earliestMs: window.earliestMs,
      targetMs: window.targetMs,
      latestMs: cut.earliestMs - 1,
      offered: true,
      why: ['It takes down what stands now. The cut of day 7 stays: until then new cells can be started.'],
    };
  },
  asked: soonFor,
  conditions: ({ state, nowMs, evidence }) =>
    present([notClosed(state), begun(state, nowMs), weather(evidence)]),
  words: () =>
    search(
      'Early cut of cells',
      'cells-cut',
      'Shake the bees off every frame and destroy every queen cell. It is never the last cut.',
    ),
  figures: () => ({ earliest: mostCellsByDays, latest: firstCutDay }),
};

/** A look for cells after the cut was made today, and not on every frame. */
function leftFramesOut({ looks, setup, nowMs }: IntroductionState): boolean {
  const last = lastOf(looks.all.filter((look) => look.cut && !look.glance));
  if (!last || last === looks.firstLate || last.complete) return false;
  return dayNumber(last.atMs, nowMs, setup.timeZone) === 0;
}

export const secondLook: ActRow = {
  kind: 'second-look',
  settles: 'what the first cut missed',
  draft: (situation) => {
    const { state, draftOf, nowMs, clock } = situation;
    const { looks, queen } = state;
    const cut = draftOf('cut-cells');
    if (!cut || !cutTwice(state) || (queen.releasedAtMs !== null && !looks.second)) return null;
    if (state.outcome && !looks.second) return null;
    // Cells that were seen since the cut are cut at once: their virgins do not wait for the day of the second look.
    if (looks.firstLate && looks.leftStanding && !looks.second)
      return { why: ['Living cells were seen and left.'], ...soon(situation) };
    const window = secondLookWindow(looks.firstLate?.atMs ?? cut.targetMs, clock);
    // Frames that the cut left out do not wait for the third day: the oldest cells there are about to open.
    const unfinished = looks.firstLate && looks.late.length === 0 && nowMs >= window.earliestMs;
    const today = onDayAt(nowMs, 0, clock.visitHour, clock.timeZone);
    const targetMs = unfinished ? Math.min(window.targetMs, today) : window.targetMs;
    return {
      done: lookDone(looks.second),
      why: [
        leftFramesOut(state)
          ? 'Frames were left out today, or bees not shaken off: finish it in the same visit.'
          : 'It finds most of the cells that the first look missed.',
      ],
      ...late({ ...window, targetMs }, nowMs, clock),
    };
  },
  conditions: (situation) => cutConditions(situation),
  words: () =>
    search(
      'Second look for cells',
      'cells-cut',
      'Look through every frame again, bees shaken off, and cut what is left.',
    ),
  figures: () => ({ earliest: secondLookAfterDays, best: secondLookAfterDays, latest: secondLookAfterDays }),
};

/** Visits that are made anyway: the one in which she is hung, where its day is known, and the one on which she could be let out by her cage alone. */
function visitsAnyway({ state, nowMs, clock }: Situation): readonly number[] {
  const { queen, setup } = state;
  const readyMs = (hungMs: number): number =>
    nextVisit(cageReadyMs(hungMs, setup.method === 'push-in-cage', clock), clock);
  if (queen.inCageSinceMs !== null) return [readyMs(queen.inCageSinceMs)];
  if (inHand(queen)) {
    const today = onDayAt(nowMs, 0, clock.visitHour, clock.timeZone);
    return [today, readyMs(today)];
  }
  if (!wantsQueen(state)) return [];
  const comesMs = comesMsOf(state);
  // One that is late may come any day.
  if (comesMs === null) return [readyMs(nextVisit(nowMs, clock))];
  const hangMs = nextVisit(Math.max(nowMs, comesMs), clock);
  return [hangMs, readyMs(hangMs)];
}

/** She is hung or let out on a later day than the last look: the nuc is open anyway, and every look finds some of what is left. */
function lookInPassing(situation: Situation, lastMs: number): Draft | null {
  const { state, sure, nowMs, clock } = situation;
  const { queen } = state;
  // A queen that is known or feared in there is found first: she is not let out on that visit.
  if (state.virgin.loose === 'seen' || lastOf(state.testFrames)?.answer === 'maybe-a-queen') return null;
  const { chance, condition } = sure() ?? { chance: 0, condition: null };
  const here = queen.inCageSinceMs !== null || inHand(queen);
  const [visitMs] = here ? visitsAnyway(situation) : [];
  if (visitMs === undefined || condition?.unmet || chance <= lookWorthChance.value) return null;
  const targetMs = Math.max(visitMs, onDayAt(nowMs, 0, clock.visitHour, clock.timeZone));
  if (dayNumber(lastMs, targetMs, clock.timeZone) < 1) return null;
  // She is hung when every cell has opened: a look as she is let out will do.
  const hangs = queen.inCageSinceMs === null;
  if (hangs && targetMs > (state.windows.virginPossible?.untilMs ?? Infinity)) return null;
  return {
    earliestMs: startOfDayAfter(targetMs, 0, clock.timeZone),
    targetMs,
    latestMs: startOfDayAfter(targetMs, 2, clock.timeZone) - 1,
    why: [
      `The nuc is opened to ${hangs ? 'hang her' : 'let her out'}: a look then finds some of what is left. The chance of a rival is ${chanceInWords(chance)}.`,
    ],
  };
}

export const oneMoreLook: ActRow = {
  kind: 'one-more-look',
  settles: 'what both looks missed',
  draft: (situation) => {
    const { state, sure, nowMs, clock, draftOf } = situation;
    if (state.outcome || state.queen.releasedAtMs !== null || !cutTwice(state)) return null;
    const last = lastOf(state.looks.complete)?.atMs ?? nowMs;
    if (state.looks.leftStanding && state.looks.second)
      return { why: ['Living cells were seen and left.'], ...soon(situation) };
    const wanted = sure()?.oneMoreLook ? sure() : null;
    if (!wanted?.oneMoreLook) return lookInPassing(situation, last);
    const visitMs = visitsAnyway(situation).find((atMs) => wanted.settledBy?.(atMs) === true) ?? null;
    // Nobody is let out before a frame that is in has told: the look is made when it comes out.
    const frameMs = draftOf('test-frame-in')?.done ? draftOf('test-frame-out')?.targetMs : undefined;
    const withMs = frameMs ?? visitMs;
    return {
      why: [wanted.condition.reason.text],
      ...late(oneMoreLookWindow(last, wanted.oneMoreLook.untilMs ?? last, withMs, clock), nowMs, clock),
    };
  },
  asked: soonFor,
  conditions: (situation) => cutConditions(situation),
  words: () =>
    search(
      'One more look for cells',
      'cells-cut',
      'Look through every frame once more, bees shaken off: the counts say that a cell may have been missed.',
    ),
};
