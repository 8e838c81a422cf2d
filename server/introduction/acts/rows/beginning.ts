/** How it begins: the split, the delivery, the old queen of a colony that is not split, and a look where nobody saw it. */
import {
  eggStageDays,
  firstCutDay,
  splitBeforeArrivalDays,
  rearableLimitDays,
} from '../../../biology/figures.ts';
import { dayNumber, startOfDay, startOfDayAfter } from '../../calendar.ts';
import { lastOf, ofKind } from '../../log/effective-facts.ts';
import { cameAndWent } from '../days/awaited-queen.ts';
import { wantsQueen } from '../days/late-queen.ts';
import { leavesNoCell } from '../../log/looks.ts';
import { letOutAlive } from '../../queen/queen-state.ts';
import { late, nextVisit, splitWindow } from '../days/plan-windows.ts';
import type { IntroductionState } from '../../state.ts';
import type { ActRow } from '../act.ts';
import { begun, notClosed, present } from '../common-conditions.ts';
import { doneBy, lookDone, soon, soonFor } from '../situation.ts';
import { beginsWithSplit, cutTwice, lookFirst } from '../starts.ts';
import { atHome, search, visit } from '../words.ts';
import { carriesNothing } from './disease.ts';
import { earlierHandsOff } from './look-conditions.ts';
import { untilThen } from './until-then.ts';

export const split: ActRow = {
  kind: 'split',
  settles: 'since when it is queenless, and how old its youngest egg is',
  draft: ({ state, fromMs, nowMs, clock }) =>
    fromMs !== null && beginsWithSplit(state) && (state.split || !state.outcome)
      ? {
          done: doneBy(ofKind(state.facts, 'split-made')[0]),
          why: [
            state.setup.expectedQueenMs === undefined
              ? 'From it the days are counted: cells are cut on day 7.'
              : 'Best a week before the queen comes: cells are cut on day 7.',
          ],
          ...late(splitWindow(state.split?.atMs ?? fromMs, state.setup.expectedQueenMs, clock), nowMs, clock),
        }
      : null,
  conditions: ({ state }) => present([notClosed(state), carriesNothing(state)]),
  words: () =>
    visit(
      'Make the split',
      'split-made',
      'Find the old queen and leave her in the parent colony. Move frames of sealed and open brood with their bees at least 10 m away.',
      ['empty nuc box', 'frames of stores', 'entrance block'],
    ),
  figures: () => ({
    earliest: splitBeforeArrivalDays,
    best: splitBeforeArrivalDays,
    latest: splitBeforeArrivalDays,
  }),
};

/** The next queen of a nuc whose queen died or is gone has no day until she is ordered. */
const nextQueen = ({ queen }: IntroductionState): boolean => queen.where === 'dead' || queen.where === 'gone';

export const queenArrives: ActRow = {
  kind: 'queen-arrives',
  settles: 'whether a living queen is at hand',
  draft: (situation) => {
    const { state, nowMs, clock, fromMs } = situation;
    const { expectedQueenMs, deliveryIsHere } = state.setup;
    if (fromMs === null || state.outcome) return null;
    if (nextQueen(state)) {
      return {
        why: [
          'A queen that comes now is logged as the next one. A free queen of another delivery may serve.',
        ],
        offered: true,
        ...soon(situation),
      };
    }
    if (!wantsQueen(state) || expectedQueenMs === undefined || deliveryIsHere || cameAndWent(state))
      return null;
    const window = {
      earliestMs: startOfDay(expectedQueenMs, clock.timeZone),
      targetMs: expectedQueenMs,
      latestMs: startOfDayAfter(expectedQueenMs, 1, clock.timeZone) - 1,
    };
    return { why: ['She is expected with the post that day.'], ...late(window, nowMs, clock) };
  },
  asked: soonFor,
  conditions: ({ state }) => present([notClosed(state)]),
  words: ({ state }) =>
    atHome(
      nextQueen(state) ? 'The next queen arrives' : 'Queen arrives',
      'queen-arrived',
      'Take the queen in: is she alive, how many attendants? A drop of water on the mesh, dark and warm.',
      ['water', 'pencil for the date on the cage'],
    ),
};

export const findOldQueen: ActRow = {
  kind: 'find-old-queen',
  settles: 'since when it is queenless, and how old its youngest egg is',
  draft: ({ state, fromMs, nowMs, clock }) => {
    if (state.outcome || state.setup.startingPoint !== 'requeened-in-place' || state.split) return null;
    const taken = ofKind(state.facts, 'queen-removed').find(({ fact }) => fact.which === 'old-queen');
    const atMs = taken?.atMs ?? fromMs;
    if (atMs === null) return null;
    const window = { ...splitWindow(atMs, state.setup.expectedQueenMs, clock), targetMs: atMs };
    const earliestMs = Math.min(window.earliestMs, atMs);
    return {
      done: doneBy(taken),
      why: ['The days count from the hour in which the old queen is taken away.'],
      ...late({ ...window, earliestMs, latestMs: Math.max(window.latestMs, atMs) }, nowMs, clock),
    };
  },
  asked: soonFor,
  conditions: ({ state }) => present([notClosed(state)]),
  words: () =>
    visit(
      'Find the old queen and take her away',
      'queen-removed',
      'Go through the frames until you find the old queen. Take her away, and look for queen cells on every frame.',
      ['queen catcher', 'brush'],
    ),
  figures: () => ({ earliest: splitBeforeArrivalDays, best: splitBeforeArrivalDays }),
};

/** The first look that says what is there: complete, the youngest brood named. */
const firstLook = ({ looks }: IntroductionState) =>
  looks.all.find((look) => look.complete && look.youngestBrood !== 'not-looked');

/** A complete look was made late enough, and without the youngest brood it still counts for nothing. */
const eggHasNoDate = ({ evidence, looks, day0Ms, setup, queen }: IntroductionState): boolean =>
  evidence.lastFertileEgg.latestMs === null &&
  day0Ms !== null &&
  !letOutAlive(queen) &&
  looks.complete.some(({ atMs }) => atMs >= startOfDayAfter(day0Ms, firstCutDay.value, setup.timeZone));

/** Frames were left out, or bees not shaken off, at a cut that counts: it is finished in the same visit, the first one by the next day. */
function cutToFinish({ looks, queen, setup, nowMs }: IntroductionState): boolean {
  const last = lastOf(looks.all.filter((look) => look.cut && !look.glance));
  if (!last || leavesNoCell(last) || letOutAlive(queen)) return false;
  if (looks.complete.some((look) => look.atMs > last.atMs)) return false;
  // A cut that was too early does not count, and a second look that left frames out is still due itself.
  if (last !== looks.firstLate && !looks.second) return false;
  return dayNumber(last.atMs, nowMs, setup.timeZone) <= (last === looks.firstLate ? 1 : 0);
}

/** A queen was out and is gone, and nobody looked for her brood since. */
function herBroodNotLookedFor({ evidence, looks, queen }: IntroductionState): boolean {
  const untilMs = evidence.perhapsLaidUntilMs;
  if (untilMs === null || letOutAlive(queen) || queen.earlierMayBeOut) return false;
  return !looks.all.some(
    (look) => look.complete && look.youngestBrood !== 'not-looked' && look.atMs >= untilMs,
  );
}

const underMesh = ({ setup, queen }: IntroductionState): boolean =>
  setup.method === 'push-in-cage' && queen.inCageSinceMs !== null;

export const lookThrough: ActRow = {
  kind: 'look-through',
  settles: 'the youngest brood, cells, a virgin, laying workers, the cause of a balling',
  draft: (situation) => {
    const { state, fromMs, nowMs, clock } = situation;
    if (fromMs === null || state.outcome) return null;
    if (cutTwice(state) && cutToFinish(state)) {
      return {
        why: [
          'Frames were left out, or bees not shaken off: finish it in the same visit. A cell that hangs there is as old as those that were cut.',
        ],
        ...soon(situation),
      };
    }
    if (cutTwice(state) && eggHasNoDate(state) && !state.signs.layingWorkers) {
      return {
        why: ['The last egg has no date: the youngest brood that you see gives it one.'],
        ...soon(situation),
      };
    }
    if (cutTwice(state) && herBroodNotLookedFor(state)) {
      return {
        why: ['A queen was out for days and may have laid: no egg and no young larva saves a week.'],
        ...soon(situation),
      };
    }
    if (!lookFirst(state)) return null;
    const done = lookDone(firstLook(state));
    if (!done && letOutAlive(state.queen)) return null;
    const targetMs = done?.atMs ?? nextVisit(fromMs, clock);
    const window = {
      earliestMs: Math.min(fromMs, targetMs),
      targetMs,
      latestMs: startOfDayAfter(targetMs, 2, clock.timeZone) - 1,
    };
    return {
      done,
      why: ['Nobody saw how it began: the youngest brood dates the last egg, and every later day.'],
      ...late(window, nowMs, clock),
    };
  },
  asked: soonFor,
  conditions: (situation) =>
    present([
      notClosed(situation.state),
      begun(situation.state, situation.nowMs),
      earlierHandsOff(situation.state, situation.nowMs),
      untilThen(situation, 'look-through'),
    ]),
  words: ({ state }) =>
    search(
      'Look through every frame',
      cutTwice(state) && (lookFirst(state) || cutToFinish(state)) && !letOutAlive(state.queen)
        ? 'cells-cut'
        : 'inspection',
      `Every frame, bees shaken off: queen cells, a virgin, the youngest brood, several eggs a cell, drone brood in worker cells${underMesh(state) ? ', eggs outside the mesh' : ''}. Log what you saw, also what was not there.`,
    ),
  figures: () => ({ earliest: eggStageDays, latest: rearableLimitDays }),
};
