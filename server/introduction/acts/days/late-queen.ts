/**
 * A nuc that wants a queen: how long it can wait for her, what ends the wait, and what can be done where she
 * comes late. What each choice rests on is common practice unless a figure is named.
 */
import {
  firstCutDay,
  framesForIntroduction,
  layingWorkersWatchDays,
  shortestCellDays,
  splitBeforeArrivalDays,
  testFrameDays,
  highEnd,
  lowEnd,
} from '../../../biology/figures.ts';
import { framesCovered, type NucProjection } from '../../../biology/nuc-population.ts';
import { perhapsHers } from '../../brood/eggs-in-doubt.ts';
import { addDays, dayNumber, onDayAt } from '../../calendar.ts';
import { lastOf } from '../../log/effective-facts.ts';
import { framesOfBees } from '../frames-of-bees.ts';
import { beginsWithSplit, cutOnTheDay, oldQueenToBeFound } from '../starts.ts';
import { nextVisit, type Clock } from './plan-windows.ts';
import { heldBack } from './test-frame-plan.ts';
import type { IntroductionState } from '../../state.ts';

export type CanWait = {
  readonly untilMs: number;
} & (
  | {
      readonly because: 'laying-workers' | 'too-few-bees';
      /** Goes on with “it can wait”. */
      readonly until: string;
    }
  /** Workers may lay already, and a look tells. */
  | { readonly because: 'look-first' }
);

const lookFirst =
  'So long without a queen, workers may lay already: look on every frame for several eggs a cell and drone brood.';

/** Null before the split and where nothing tells since when the nuc is queenless. */
export function canWait(state: IntroductionState, projection: NucProjection | null): CanWait | null {
  const workersMs = state.windows.layingWorkersWatchFromMs;
  if (workersMs === null || state.day0Ms === null) return null;
  if (state.nowMs >= workersMs) return { untilMs: state.nowMs, because: 'look-first' };
  const least = lowEnd(framesForIntroduction);
  const today = state.dayNumber ?? 0;
  const weak = projection?.days.find(({ day, bees }) => day >= today && framesCovered(bees) < least);
  const weakMs = weak ? addDays(state.day0Ms, weak.day, state.setup.timeZone) : Infinity;
  return weak && weakMs < workersMs
    ? {
        untilMs: weakMs,
        because: 'too-few-bees',
        until: `until day ${String(weak.day)}: then fewer than ${String(least)} frames of bees are left to keep her warm.`,
      }
    : {
        untilMs: workersMs,
        because: 'laying-workers',
        until: `until ${String(layingWorkersWatchDays.value)} days without a queen: from then on workers may lay.`,
      };
}

/** No queen is in it or at hand for it, or its queen is dead: one that is expected, or the next, is for it. */
export const wantsQueen = ({ queen, outcome }: IntroductionState): boolean =>
  outcome === null && (queen.where === 'not-here' || queen.where === 'dead');

export type Barred = 'disease' | 'workers-lay' | 'to-be-united';

/** Why no queen is given to it, as things stand; null where one may be. */
export function barredFor(state: IntroductionState): Barred | null {
  if (state.signs.diseaseAtMs !== null) return 'disease';
  if (state.signs.layingWorkers && !perhapsHers(state)) return 'workers-lay';
  return heldBack(state) === 'unite' ? 'to-be-united' : null;
}

/** A queen of some kind was seen in it, held the bees back, or was let out before: she is found, or a test frame tells, before anything goes in. */
export const queenMayBeIn = (state: IntroductionState): boolean =>
  state.evidence.queenless === 'contradicted' ||
  state.virgin.loose === 'seen' ||
  state.queen.earlierMayBeOut ||
  heldBack(state) !== null;

export interface LateChoice {
  readonly kind:
    | 'move-split'
    | 'wait'
    | 'look-again'
    | 'test-frame'
    | 'brood-frame'
    | 'sealed-brood'
    | 'start-anew';
  /** Whether it goes together with the day on which the queen comes. */
  readonly fits: boolean;
  /** When it is to be done; null where it has no day. */
  readonly atMs: number | null;
  readonly text: string;
}

/** On schedule she hangs by the day of the first cut; later than its window she is late. */
export function queenIsLate(state: IntroductionState, comesMs: number | null): boolean {
  if (state.day0Ms === null || !wantsQueen(state)) return false;
  const day = dayNumber(state.day0Ms, comesMs ?? state.nowMs, state.setup.timeZone);
  return day > highEnd(firstCutDay);
}

/** The day on which a queen is expected, while that day is not over. */
export const comesMsOf = ({ setup, nowMs }: IntroductionState): number | null =>
  setup.expectedQueenMs !== undefined && dayNumber(nowMs, setup.expectedQueenMs, setup.timeZone) >= 0
    ? setup.expectedQueenMs
    : null;

export type NotBegun = 'not-split' | 'old-queen-in-it';

/** Its bees have a queen still: the split is not made, or the old queen not taken out. Null once they have none. */
export function notBegunYet(state: IntroductionState): NotBegun | null {
  if (oldQueenToBeFound(state)) return 'old-queen-in-it';
  return beginsWithSplit(state) && state.split === null ? 'not-split' : null;
}

function moveSplit(
  state: IntroductionState,
  how: NotBegun,
  comesMs: number | null,
  clock: Clock,
): LateChoice {
  const { nowMs } = state;
  const [leave, act] =
    how === 'not-split'
      ? (['Leave the split', 'Make the split'] as const)
      : (['Leave the old queen in it', 'Take the old queen out'] as const);
  if (comesMs === null) {
    return {
      kind: 'move-split',
      fits: true,
      atMs: null,
      text: `${leave} until a queen is on order: nothing is lost by waiting.`,
    };
  }
  // A laying queen of one's own goes in on the day after the split.
  const own = cutOnTheDay(state);
  const daysBefore = own ? 1 : splitBeforeArrivalDays.value;
  const meant = onDayAt(comesMs, -daysBefore, clock.visitHour, clock.timeZone);
  const overdue = dayNumber(nowMs, meant, clock.timeZone) < 0;
  const late = own ? '.' : ': the week before the queen has begun.';
  return {
    kind: 'move-split',
    fits: true,
    atMs: overdue ? nextVisit(nowMs, clock) : meant,
    text: overdue
      ? `${act} as soon as you can${late}`
      : `${act} ${own ? 'the day' : 'a week'} before she comes: nothing is lost by waiting.`,
  };
}

/** A queen that comes within the week is waited for; longer, open brood holds the workers back better. */
const withinTheWeek = (state: IntroductionState, comesMs: number): boolean =>
  dayNumber(state.nowMs, comesMs, state.setup.timeZone) < firstCutDay.value;

function waitFor(state: IntroductionState, wait: CanWait | null, comesMs: number | null): LateChoice {
  if (!wait) {
    return {
      kind: 'wait',
      fits: comesMs !== null,
      atMs: comesMs,
      text: 'How long it can wait is not known: nothing tells since when it is queenless. Look for several eggs a cell.',
    };
  }
  const looksFirst = wait.because === 'look-first';
  if (comesMs === null)
    return {
      kind: 'wait',
      fits: false,
      atMs: wait.untilMs,
      text: looksFirst ? lookFirst : `Nobody knows when a queen comes. It can wait for one ${wait.until}`,
    };
  if (looksFirst && withinTheWeek(state, comesMs))
    return { kind: 'wait', fits: true, atMs: comesMs, text: `She may go in if no worker lays. ${lookFirst}` };
  if (looksFirst)
    return { kind: 'wait', fits: false, atMs: wait.untilMs, text: `It can’t wait for her. ${lookFirst}` };
  return comesMs <= wait.untilMs
    ? { kind: 'wait', fits: true, atMs: comesMs, text: `It can wait for her: ${wait.until}` }
    : { kind: 'wait', fits: false, atMs: wait.untilMs, text: `It can’t wait for her, only ${wait.until}` };
}

/** What makes a long wait safe: the box is looked through before she hangs; a test frame where a virgin may be out. */
function beforeShe(state: IntroductionState, comesMs: number, clock: Clock): LateChoice[] {
  const { virgin, looks, nowMs, testFrames } = state;
  const lastMs = lastOf(looks.complete)?.atMs ?? state.day0Ms ?? nowMs;
  const sinceLook = dayNumber(lastMs, comesMs, clock.timeZone);
  const choices: LateChoice[] = [
    {
      kind: 'look-again',
      fits: true,
      atMs: nextVisit(Math.max(comesMs, nowMs), clock),
      text: 'Look through every frame again before she is hung: a missed cell, a virgin or several eggs a cell would cost her life.',
    },
  ];
  // Cells on a frame since that look have told already.
  const frame = lastOf(testFrames);
  const told = frame?.answer === 'no-queen' && frame.inMs >= lastMs;
  if (virgin.loose !== 'excluded' || (sinceLook >= lowEnd(shortestCellDays) && !told)) {
    const days = testFrameDays.value;
    const at = onDayAt(comesMs, -days, clock.visitHour, clock.timeZone);
    choices.push({
      kind: 'test-frame',
      fits: true,
      atMs: Math.max(at, nextVisit(nowMs, clock)),
      text: `Put a test frame in ${String(days)} days before she comes: cells on it mean that no queen is loose. Taken out whole, it starts no new wait.`,
    });
  }
  return choices;
}

function mend(wait: CanWait | null, comesMs: number | null, nowMs: number, clock: Clock): LateChoice[] {
  const visitMs = nextVisit(nowMs, clock);
  const inTime = comesMs === null || dayNumber(visitMs, comesMs, clock.timeZone) >= firstCutDay.value;
  const brood: LateChoice = {
    kind: 'brood-frame',
    fits: inTime,
    atMs: visitMs,
    text: inTime
      ? 'Give a frame of open brood from a healthy colony: while it is open it holds the workers back. Cells can be started from it: cut 7 days later, look again after 10.'
      : 'A frame of open brood is too late now: the cells that are started from it could not be cut before she comes.',
  };
  const sealed: LateChoice = {
    kind: 'sealed-brood',
    fits: true,
    atMs: visitMs,
    text: 'Give a frame of sealed brood about to emerge, from a healthy colony, bees shaken off: it adds bees and starts no new wait.',
  };
  return wait?.because === 'too-few-bees' ? [sealed, brood] : [brood];
}

function startAnew(comesMs: number | null, nowMs: number, clock: Clock): LateChoice {
  const splitMs =
    comesMs === null
      ? null
      : onDayAt(comesMs, -splitBeforeArrivalDays.value, clock.visitHour, clock.timeZone);
  const ahead = splitMs !== null && dayNumber(nowMs, splitMs, clock.timeZone) >= 0;
  return {
    kind: 'start-anew',
    fits: ahead || comesMs === null,
    atMs: ahead ? splitMs : null,
    text: ahead
      ? 'Unite it with a colony that has its queen, and make a new split a week before she comes.'
      : 'Unite it with a colony that has its queen.',
  };
}

const inspectorFirst: LateChoice = {
  kind: 'wait',
  fits: false,
  atMs: null,
  text: 'Signs of brood disease: call the bee inspector. Nothing comes in or goes out before they are ruled out.',
};

const findHerFirst = (nowMs: number, clock: Clock): LateChoice => ({
  kind: 'look-again',
  fits: true,
  atMs: nextVisit(nowMs, clock),
  text: 'A queen may be in it. Find her and take her away, or let a test frame tell, before brood or a queen goes in.',
});

/** A queen given to it is killed. */
function giveItUp(barred: 'workers-lay' | 'to-be-united', anew: LateChoice): LateChoice {
  const text =
    barred === 'workers-lay'
      ? 'Workers lay in it, and they kill a queen. Shake its bees out before a strong colony, or unite them with it.'
      : 'A queen is in it that nobody found. Shake its bees out before a strong colony, and set no box on it.';
  return {
    ...anew,
    fits: true,
    text: anew.atMs === null ? text : `${text} Make a new split a week before she comes.`,
  };
}

/** Brood given to it would chill. Common practice. */
function noBeesLeft(anew: LateChoice): LateChoice {
  const text = 'No bees are left in it: log how it ended, or shake young bees in from a healthy colony.';
  return {
    ...anew,
    fits: true,
    text: anew.atMs === null ? text : `${text} Or make a new split a week before she comes.`,
  };
}

/**
 * What can be done with a nuc whose queen comes at `comesMs` (null: none is on order), in the order in which
 * to think of it; the first that fits is the one to take. Empty where the nuc wants no queen.
 */
export function lateChoices(
  state: IntroductionState,
  projection: NucProjection | null,
  comesMs: number | null,
  clock: Clock,
): readonly LateChoice[] {
  if (!wantsQueen(state)) return [];
  const { nowMs } = state;
  const barred = barredFor(state);
  if (barred === 'disease') return [inspectorFirst];
  const notBegun = notBegunYet(state);
  if (notBegun !== null) return [moveSplit(state, notBegun, comesMs, clock)];
  if (barred !== null) return [giveItUp(barred, startAnew(comesMs, nowMs, clock))];
  if (queenMayBeIn(state)) return [findHerFirst(nowMs, clock)];
  if (framesOfBees(state) === 0) return [noBeesLeft(startAnew(comesMs, nowMs, clock))];
  const wait = canWait(state, projection);
  const waiting = waitFor(state, wait, comesMs);
  if (waiting.fits && comesMs !== null) return [waiting, ...beforeShe(state, comesMs, clock)];
  return [waiting, ...mend(wait, comesMs, nowMs, clock), startAnew(comesMs, nowMs, clock)];
}
