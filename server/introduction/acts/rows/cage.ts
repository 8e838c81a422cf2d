/** The queen in her cage: hung, watched, caught again, let out. */
import {
  cagedBeforeOpeningHours,
  cageTimeDays,
  candyEatenHours,
  framesForIntroduction,
  pushInCageDays,
} from '../../../biology/figures.ts';
import { dayNumber, startOfDayAfter } from '../../calendar.ts';
import { candyHoldsMs } from '../../queen/candy.ts';
import { heldInCage } from '../../queen/earliest-look.ts';
import { cameAndWent, didNotCome } from '../days/awaited-queen.ts';
import { late, openWindow, type StepWindow } from '../days/plan-windows.ts';
import { inHand } from '../../queen/queen-state.ts';
import type { IntroductionState } from '../../state.ts';
import type { ActRow } from '../act.ts';
import type { Draft } from '../draft.ts';
import { begun, notClosed, present } from '../common-conditions.ts';
import { pending } from '../condition.ts';
import { hiveSigns } from '../hive-signs.ts';
import { framesOfBees } from '../frames-of-bees.ts';
import { doneBy, latestOf, soon, soonFor, soonSince, type Situation } from '../situation.ts';
import { beginsWithSplit, cutOnTheDay, nothingToCut, oldQueenToBeFound } from '../starts.ts';
import { visit } from '../words.ts';
import { carriesNothing } from './disease.ts';
import { hang, lastLookMs, waitsForCutMs } from './hang-window.ts';
import { hangConditions, keepHer, tooFewBees, tooFewBeesSinceMs } from './hang-conditions.ts';
import { noVirgin } from './loose-queen-conditions.ts';
import { openConditions } from './open-conditions.ts';
import { untilThen } from './until-then.ts';

const noQueenToCome = ({ queen }: IntroductionState): boolean =>
  queen.where === 'dead' || queen.where === 'gone';

/** No queen is logged or on order, and the look or cut with which she would have hung is over, or overdue and moves on with today. */
function nobodyOrdered({ state, nowMs, clock, draftOf }: Situation): boolean {
  const { expectedQueenMs, deliveryIsHere } = state.setup;
  if (state.queen.where !== 'not-here' || expectedQueenMs !== undefined || deliveryIsHere) return false;
  const before = draftOf(nothingToCut(state) ? 'look-through' : 'cut-cells');
  if (before === null) return false;
  return nowMs > (before.done ? startOfDayAfter(before.done.atMs, 1, clock.timeZone) : before.latestMs);
}

/** Nobody logged that she came, though her day, or the last good one for her to hang, is over; or she went to another nuc. */
const isAwaited = (situation: Situation, { latestMs }: StepWindow): boolean => {
  const { state, nowMs } = situation;
  const isOver = state.queen.where === 'not-here' && latestMs < nowMs;
  return didNotCome(state) || cameAndWent(state) || isOver || nobodyOrdered(situation);
};

/** She may hang once she comes; until then nobody is sent to hang her, whatever waits for it. */
const onceSheComes = (state: IntroductionState, window: StepWindow): Draft => ({
  afterArrivalDays: 0,
  why: [
    state.setup.expectedQueenMs === undefined || cameAndWent(state)
      ? 'No queen is logged or expected: enter her delivery, or log her when she comes.'
      : 'She is not logged as arrived.',
  ],
  ...window,
});

export const hangCage: ActRow = {
  kind: 'hang-cage',
  settles: 'that the bees keep her warm and know her',
  draft: (situation) => {
    const { state, fromMs, nowMs } = situation;
    const { queen, outcome } = state;
    const done =
      queen.cageHungAtMs === null || queen.where === 'taken-out'
        ? undefined
        : doneBy(latestOf(state, 'cage-hung'));
    const nobodyToHang = outcome !== null || noQueenToCome(state) || queen.releasedAtMs !== null;
    if (fromMs === null || (!done && nobodyToHang)) return null;
    const window = hang(situation, fromMs);
    if (!done && isAwaited(situation, window)) return onceSheComes(state, window);
    return {
      done,
      why: inHand(state.queen)
        ? waitsForCutMs(situation) !== null
          ? [`She hangs in the visit of the cut. ${keepHer}`]
          : window.targetMs >= startOfDayAfter(nowMs, 1, situation.clock.timeZone)
            ? [keepHer]
            : ['She is at hand: among the bees, in the closed cage, is the best place for her to wait.']
        : [
            `She may hang from the day ${beginsWithSplit(state) ? 'of the split' : 'on which she comes'} on; the bees learn her scent and keep her warm.`,
          ],
      ...window,
    };
  },
  asked: (situation, asked) => {
    const { state, fromMs } = situation;
    const planned = fromMs === null ? null : hang(situation, fromMs);
    return planned && isAwaited(situation, planned)
      ? onceSheComes(state, planned)
      : soonFor(situation, asked);
  },
  conditions: (situation) => hangConditions(situation, waitsForCutMs(situation) !== null),
  words: ({ state }) =>
    state.setup.method === 'push-in-cage'
      ? visit(
          'Press the mesh over her',
          'cage-hung',
          'Let the queen onto emerging brood with some open stores, without her attendants. Press the mesh into the comb around her so that no bee gets under it.',
          ['queen, kept warm', 'mesh to press in'],
        )
      : visit(
          'Hang the cage',
          'cage-hung',
          'Tape over the candy end, and leave the attendants in. Hang the cage flat between two brood frames, tied so that it can’t fall.',
          ['caged queen, kept warm', 'line and pin for the cage', 'tape'],
        ),
  figures: () => ({ latest: cageTimeDays }),
};

export const addBees: ActRow = {
  kind: 'add-bees',
  settles: 'that enough bees keep her warm',
  draft: (situation) => {
    const { state } = situation;
    const { queen, outcome, day0Ms } = state;
    const few = outcome === null && day0Ms !== null && queen.releasedAtMs === null && tooFewBees(state);
    return few && !oldQueenToBeFound(state) && queen.where !== 'dead' && queen.where !== 'gone'
      ? {
          why: ['Too few bees keep neither brood nor queen warm.'],
          ...soonSince(situation, Math.max(tooFewBeesSinceMs(state), day0Ms)),
        }
      : null;
  },
  asked: soonFor,
  conditions: ({ state, nowMs }) => present([notClosed(state), begun(state, nowMs), carriesNothing(state)]),
  words: ({ state }) => {
    const none = framesOfBees(state) === 0;
    const alone = state.queen.inCageSinceMs === null ? '' : 'Take her out, and keep her warm. ';
    return visit(
      'Add bees, count the frames',
      'inspection',
      none
        ? `${alone}Shake young bees in from a healthy colony: brood without bees chills. Log how many frames of bees there are. Or give the nuc up, and log how it ended.`
        : 'Give a frame of sealed brood about to emerge from a healthy colony, bees shaken off, or shake young bees in. Then log how many frames of bees there are.',
      [none ? 'young bees from a healthy colony' : 'frame of sealed brood', 'brush'],
    );
  },
  figures: () => ({ earliest: framesForIntroduction }),
};

export const watchCage: ActRow = {
  kind: 'watch-cage',
  settles: 'whether the bees would harm her',
  draft: () => null,
  asked: soonFor,
  conditions: (situation) => {
    const { state } = situation;
    return present([
      notClosed(state),
      state.queen.inCageSinceMs === null
        ? pending('No queen hangs in the nuc', 'Bees are watched at a cage that hangs.', {
            first: 'hang-cage',
          })
        : null,
      untilThen(situation, 'watch-cage'),
    ]);
  },
  words: ({ state }) =>
    visit(
      state.setup.method === 'push-in-cage' ? 'Watch the bees on the mesh' : 'Watch the bees at the cage',
      'cage-checked',
      'Lift the lid and watch: feeding and fanning is good; biting, clinging and trying to sting is not. Is she alive?',
    ),
};

/** Nobody is out yet. */
const bothHang = ({ state: { queen }, nowMs }: Situation): boolean =>
  queen.releasedAtMs === null || nowMs < candyHoldsMs(queen.releasedAtMs);

const twoHang = 'By the log two caged queens hang in it: the bees would be left with two.';

export const takeCageOut: ActRow = {
  kind: 'take-cage-out',
  settles: 'that one queen alone is in it',
  draft: (situation) => {
    const { state, draftOf } = situation;
    if (state.outcome || !state.queen.besideAnother) return null;
    // Once one may be out it waits for the look for her.
    const look = bothHang(situation) ? null : draftOf('look-for-queen');
    const { earliestMs, targetMs, latestMs } = look ?? soon(situation);
    return { earliestMs, targetMs, latestMs, why: [twoHang] };
  },
  asked: soonFor,
  conditions: ({ state }) => present([notClosed(state)]),
  words: () =>
    visit(
      'Take one of the two cages out',
      'cage-taken-out',
      'Take one caged queen out for another nuc, and log it. If only one hangs there, correct the entry.',
    ),
};

/** Her way out was opened days ago, and she was found in the cage. */
export const freeQueen: ActRow = {
  kind: 'free-queen',
  settles: 'that she is out among the bees',
  draft: (situation) =>
    !situation.state.outcome &&
    situation.state.queen.releasedAtMs !== null &&
    (situation.state.queen.where === 'in-cage' || heldInCage(situation.state))
      ? { why: ['Her way out was opened days ago, and she is still in the cage.'], ...soon(situation) }
      : null,
  // What keeps a way out shut keeps her in.
  conditions: (situation) => {
    const { state, nowMs } = situation;
    return state.queen.where === 'in-cage'
      ? openConditions(situation)
      : present([notClosed(state), noVirgin(situation), ...hiveSigns(state, nowMs)]);
  },
  words: () =>
    visit(
      'Free her from the cage',
      'candy-opened',
      'Watch the bees on the cage. If they are calm, clear the candy out of her way and close the nuc. If they bite, look for a cell or another queen first.',
      ['tool for the candy end'],
    ),
};

const release = ({ setup }: IntroductionState) =>
  setup.method === 'push-in-cage' ? ('cage-taken-out' as const) : ('candy-opened' as const);

export const openCandy: ActRow = {
  kind: 'open-candy',
  settles: 'that she is out among the bees',
  draft: (situation) => {
    const { state, fromMs, nowMs, clock, draftOf } = situation;
    const { queen, setup } = state;
    const done: Draft['done'] =
      queen.releasedAtMs === null
        ? undefined
        : doneBy(latestOf(state, release(state)) ?? latestOf(state, 'cage-hung'));
    const hung = draftOf('hang-cage');
    if (fromMs === null || (!done && (state.outcome || !hung || noQueenToCome(state)))) return null;
    const openMs = lastLookMs(situation, fromMs);
    const hungMs = queen.inCageSinceMs ?? hung?.targetMs ?? nowMs;
    const mesh = setup.method === 'push-in-cage';
    const own = cutOnTheDay(state) && !mesh;
    const queenMs = queen.arrivedAtMs ?? setup.expectedQueenMs ?? null;
    const window =
      own && hung
        ? {
            earliestMs: openMs,
            targetMs: Math.max(openMs, hungMs),
            latestMs: Math.max(hung.latestMs, openMs, hungMs),
          }
        : openWindow(openMs, hungMs, queenMs, mesh, clock);
    const afterArrivalDays = own
      ? 0
      : dayNumber(hungMs, openWindow(hungMs, hungMs, null, mesh, clock).targetMs, clock.timeZone);
    return {
      done,
      ...(done || hung?.afterArrivalDays === undefined ? {} : { afterArrivalDays }),
      why: own
        ? ['When every cell was cut that day and the bees are calm at the cage.']
        : ['Only when no cell, no virgin and no larva for another is left.'],
      ...late(window, nowMs, clock),
    };
  },
  conditions: openConditions,
  words: ({ state }) =>
    state.setup.method === 'push-in-cage'
      ? visit(
          'Lift the mesh',
          'cage-taken-out',
          'Watch the bees on the mesh. If they are calm, lift it off and let her walk onto the comb; close the nuc.',
        )
      : visit(
          'Open the candy end',
          'candy-opened',
          'Watch the bees on the cage. If they are calm, take the tape off the candy end and close the nuc. Push a plug that is nearly through back, so that she is free after hours, not minutes. Strong nucs take two days, weak ones three.',
          ['tool for the candy end'],
        ),
  figures: ({ state }) =>
    state.setup.method === 'push-in-cage'
      ? { earliest: pushInCageDays, best: pushInCageDays, latest: cageTimeDays }
      : { earliest: cagedBeforeOpeningHours, best: candyEatenHours, latest: cageTimeDays },
};
