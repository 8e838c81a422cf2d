/** After she is let out: looked for, and cells dealt with. */
import {
  eggsSeenAfterDays,
  handsOffDays,
  lookAgainForQueenDays,
  searchesBeforeUniting,
} from '../../../biology/figures.ts';
import { dayNumber } from '../../calendar.ts';
import { earliestLook } from '../../queen/earliest-look.ts';
import { letOutByHand } from '../../queen/let-out-by-hand.ts';
import { lastOf } from '../../log/effective-facts.ts';
import { eggsInDoubt } from '../../brood/eggs-in-doubt.ts';
import { late, lookAgainWindow, searchAgainWindow } from '../days/plan-windows.ts';
import { mayBeOut, noEggsForTwoWeeks } from '../../queen/queen-state.ts';
import { showsNoMatedQueen } from '../../log/signs.ts';
import type { IntroductionState } from '../../state.ts';
import { cellsAfterRelease } from '../../cells/rival-seen.ts';
import { perhapsAnothers } from '../../queen/what-looks-tell.ts';
import { emergedByMs, leavesNoCell, livingCells, onceAVisit } from '../../log/looks.ts';
import { searchedEnough } from '../days/test-frame-plan.ts';
import type { ActRow, ActWords } from '../act.ts';
import type { Draft } from '../draft.ts';
import { doneBy, soonFor, soonSince, type Situation } from '../situation.ts';
import { cellsMayBeLeft, cutOnTheDay } from '../starts.ts';
import { search, visit } from '../words.ts';
import { cutConditions, lookForCellsToo } from './cut-conditions.ts';
import {
  flewOffMs,
  fromArrival,
  lookConditions,
  lookFrom,
  lookedSince,
  outAt,
  over,
  perhapsBackWindow,
} from './look-conditions.ts';

/** Eggs stand at the bottom of dark cells. Common practice. */
const forEggs = ['torch'];

const cellSince = ({ looks, queen: { releasedAtMs } }: IntroductionState): boolean =>
  looks.all.some((look) => look.atMs >= (releasedAtMs ?? Infinity) && livingCells(look) > 0);

const howLong = (state: IntroductionState): string =>
  cellSince(state)
    ? 'Look for cells on every frame: one was seen since she was let out.'
    : cellsMayBeLeft(state)
      ? 'Look for cells on every frame: some may have been left when she came out.'
      : 'No longer than needed.';

/** No candy is between her and the bees, and no cage hangs there once she is out. */
const withoutCandy = (state: IntroductionState): boolean =>
  state.setup.method === 'push-in-cage' || letOutByHand(state);

/** She was met in her days outside, and nothing of her since: bees can turn on her still. */
function metTooSoon({ queen, setup }: IntroductionState): boolean {
  const { releasedAtMs, lastSeenAtMs, firstEggsAtMs, where } = queen;
  if (releasedAtMs === null || lastSeenAtMs === null || firstEggsAtMs !== null || where !== 'seen-loose')
    return false;
  return lastSeenAtMs < earliestLook({ ...queen, releasedAtMs }, setup.method, setup.timeZone).leastMs;
}

export const lookForQueen: ActRow = {
  kind: 'look-for-queen',
  settles: 'whether she is out and accepted',
  draft: (situation) => {
    const { state, nowMs, clock } = situation;
    const releasedMs = outAt(situation);
    if (releasedMs === null) return null;
    const looked = state.queen.releasedAtMs === null ? undefined : lookedSince(state, releasedMs)[0];
    const done = metTooSoon(state) ? undefined : doneBy(looked);
    if (!done && over(state)) return null;
    const from = lookFrom(situation, releasedMs);
    const window = late(from, nowMs, clock);
    const soonForCells = dayNumber(releasedMs, from.targetMs, clock.timeZone) < handsOffDays.value;
    return {
      done,
      ...fromArrival(situation, window),
      why: [
        state.queen.outByAccident
          ? 'She got out by accident: not for three full days, and better a week; a look too early gets her killed.'
          : withoutCandy(state)
            ? 'Never before she has been out for three full days; a week is better: a look too early gets the queen killed.'
            : 'Not for six days after the candy was opened: up to three until she is out, then three full days. A week is better.',
        ...(soonForCells ? ['Cells may be left: look for them before a virgin can emerge.'] : []),
      ],
      ...window,
    };
  },
  conditions: lookConditions,
  words: ({ state }) =>
    visit(
      'Look for the queen',
      'looked-for-queen',
      withoutCandy(state)
        ? `Does the queen walk calmly, are there eggs? ${howLong(state)}`
        : `Is the cage empty, does the queen walk calmly, are there eggs? ${howLong(state)}`,
      forEggs,
    ),
  figures: () => ({ earliest: handsOffDays, best: handsOffDays }),
};

/** A cell was seen after the release and is cut: some days later it is looked whether another was started. */
function cellCutMs(state: IntroductionState): number | null {
  const { looks, queen } = state;
  if (queen.releasedAtMs === null || looks.leftStanding) return null;
  const since = looks.all.filter((look) => look.atMs >= (queen.releasedAtMs ?? Infinity));
  const seen = lastOf(since.filter((look) => livingCells(look) > 0));
  // One that nobody cut has opened by now: what is left is her brood.
  if (seen && !seen.cut && state.nowMs >= emergedByMs(seen)) return null;
  // Emergency cells of the larvae that were left: bees with a laying queen start no other and tear down what was missed.
  if (cutOnTheDay(state) && queen.firstEggsAtMs !== null && since.some(leavesNoCell)) return null;
  // The look for her is to come still, and looks for cells too.
  if (lookedSince(state, queen.releasedAtMs).length === 0) return null;
  return seen && lastOf(since) === seen ? seen.atMs : null;
}

/** Three looks, the last two weeks or more after she was let out, and no egg at any: another tells nothing new. */
export const neverLaid = (state: IntroductionState): boolean =>
  mayBeOut(state.queen) &&
  noEggsForTwoWeeks(state) &&
  onceAVisit(lookedSince(state, state.queen.releasedAtMs ?? Infinity)).length >= searchesBeforeUniting.value;

/** Two looks since she was let out saw what no mated queen lays, and none saw worker brood after them. */
export function laysDrones(state: IntroductionState): boolean {
  const { releasedAtMs, sealedWorkerBroodAtMs } = state.queen;
  if (releasedAtMs === null || !state.signs.layingWorkers || eggsInDoubt(state)) return false;
  const seen = lookedSince(state, sealedWorkerBroodAtMs ?? releasedAtMs).filter(({ fact }) =>
    showsNoMatedQueen(fact),
  );
  return onceAVisit(seen).length >= 2;
}

const eggsBesideCage = ({ queen }: IntroductionState): boolean =>
  queen.where === 'released' && queen.eggsBesideCageAtMs !== null;

function lookAgainDraft(situation: Situation): Draft | null {
  const { state, nowMs, clock } = situation;
  const { queen } = state;
  const missedMs = lastOf(queen.notFoundAtMs);
  const flownMs = flewOffMs(state);
  if (flownMs !== null && state.outcome === null) {
    return {
      why: ['She flew off, and queens often come back: look before another one is given.'],
      ...late(perhapsBackWindow(situation, flownMs), nowMs, clock),
    };
  }
  if (over(state) || laysDrones(state) || neverLaid(state)) return null;
  if (missedMs !== undefined) {
    if (searchedEnough(state)) return null;
    return {
      why: ['She was not found. Not finding a queen is not losing her: a second look often does.'],
      ...late(searchAgainWindow(missedMs, clock), nowMs, clock),
    };
  }
  if (queen.releasedAtMs === null || !mayBeOut(queen)) return null;
  if (eggsBesideCage(state))
    return {
      why: ['Eggs were seen, and her cage was not empty: they may be another queen’s.'],
      ...soonSince(situation, queen.eggsBesideCageAtMs ?? nowMs),
    };
  const cutMs = cellCutMs(state);
  if (cutMs !== null) {
    return {
      why: ['A cell was cut after she was let out: look whether another was started, and for her eggs.'],
      ...late(searchAgainWindow(cutMs, clock), nowMs, clock),
    };
  }
  const last = lastOf(lookedSince(state, queen.releasedAtMs));
  const doubt = eggsInDoubt(state);
  if (doubt && doubt.atMs >= (last?.atMs ?? -Infinity)) {
    return {
      why: ['Several eggs in a cell may be hers for some days: worker cappings decide.'],
      ...late(lookAgainWindow(doubt.atMs, queen.releasedAtMs, clock), nowMs, clock),
    };
  }
  if (!last || queen.firstEggsAtMs !== null) return null;
  // Seen walking, she is left in peace until her brood is to be sealed: that look is for her eggs, too.
  if (queen.where === 'seen-loose' && !noEggsForTwoWeeks(state)) return null;
  const eggs = last.fact.kind === 'inspection' ? last.fact.youngestBrood === 'eggs' : last.fact.eggsSeen;
  const others = perhapsAnothers(state.facts, last.atMs)
    ? 'Eggs were seen that may have come with a frame, or be those of the queen before: in some days eggs are hers.'
    : 'Eggs were seen as workers lay them: look for her, and for single eggs on the bottom of their cells.';
  return {
    why: [
      eggs ? others : 'No eggs were seen yet; a queen that has none two weeks after her release is failing.',
    ],
    ...late(lookAgainWindow(last.atMs, queen.releasedAtMs, clock), nowMs, clock),
  };
}

function lookAgainWords(state: IntroductionState): ActWords {
  const look = (label: string, whatToDo: string, bring: readonly string[] = []): ActWords =>
    visit(label, 'looked-for-queen', whatToDo, [...bring, ...forEggs]);
  const { queen } = state;
  if (flewOffMs(state) !== null)
    return look(
      'Look for the queen',
      'Look for her and for eggs on every frame. If you find neither, the next queen can be given.',
    );
  if (queen.notFoundAtMs.length > 0)
    return look(
      'Look again for the queen',
      'Look for her and for eggs again, on every frame: she was not found, which does not mean that she is gone.',
    );
  if (queen.releasedAtMs === null)
    return look(
      'Look for the queen',
      'Look for the queen that was let out before, and for eggs, on every frame.',
    );
  if (eggsBesideCage(state))
    return look(
      'See who sits in the cage',
      'A queen in it, and eggs outside: another one lays, so take the cage out and don’t let her go. Only attendants in it: log the cage as empty.',
    );
  if (cellCutMs(state) !== null)
    return look('Look again for cells', 'Look for cells, for her and for her eggs.', ['cell knife']);
  if (eggsInDoubt(state))
    return look(
      'Look again at the eggs',
      'One egg in a cell, on its bottom? Flat cappings are worker brood, domed ones in worker cells are not.',
    );
  return look(
    'Look again for eggs',
    queen.where === 'seen-loose'
      ? 'Look for eggs again: the queen was seen, her eggs were not.'
      : 'Look for her and for her eggs again.',
  );
}

export const lookAgain: ActRow = {
  kind: 'look-again',
  settles: 'whether she is there, and lays',
  draft: lookAgainDraft,
  asked: soonFor,
  conditions: lookConditions,
  words: ({ state }) => lookAgainWords(state),
  figures: () => ({
    earliest: lookAgainForQueenDays,
    best: lookAgainForQueenDays,
    latest: eggsSeenAfterDays,
  }),
};

/** Neither she nor an egg was found at the last look: what stands is all that the bees can raise a queen from. */
const lastCells = (state: IntroductionState): boolean =>
  cellsAfterRelease(state) && state.queen.firstEggsAtMs !== null && state.queen.notFoundAtMs.length > 0;

export const cutAfterRelease: ActRow = {
  kind: 'cut-after-release',
  settles: 'that no queen is raised beside her',
  draft: (situation) =>
    !over(situation.state) && (cellsAfterRelease(situation.state) || lookForCellsToo(situation.state))
      ? {
          ...(lastCells(situation.state) ? { offered: true } : {}),
          why: [
            lastCells(situation.state)
              ? 'Neither she nor an egg was found: these cells are the last from which the bees can raise a queen.'
              : cellsAfterRelease(situation.state)
                ? 'A living cell was seen after she was let out: a virgin from it would kill her, or she was given up.'
                : 'One look before she came out misses cells, and so does a look for her. A virgin from one would kill her.',
          ],
          ...soonSince(situation, situation.state.looks.leftStanding?.atMs ?? situation.nowMs),
        }
      : null,
  asked: soonFor,
  conditions: cutConditions,
  words: ({ state }) =>
    search(
      cellsAfterRelease(state) ? 'Cut the cell that was seen' : 'Look for cells beside her',
      'cells-cut',
      `${lastCells(state) ? 'Cut them only where another queen is at hand or on order. ' : ''}Find the queen first and set her frame aside. Shake the bees off every other frame, cut every cell, and log them. Then close the nuc.`,
      ['box for her frame'],
    ),
};
