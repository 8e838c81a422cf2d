/** May another queen be loose in the box: a virgin, or one that the test frame or the missing cells speak for? */
import { firstVirginDays, shortestCellDays } from '../../../biology/figures.ts';
import { lastOf } from '../../log/effective-facts.ts';
import type { IntroductionState } from '../../state.ts';
import { perhapsTaken, wasThatIt } from '../../log/test-frames.ts';
import { frameTells, heldBack } from '../days/test-frame-plan.ts';
import { chanceIsSmall } from '../../cells/virgin-risk.ts';
import { byTestFrame, virginInIt } from '../common-conditions.ts';
import { blocked, cite, met, pending, since, unknown, type Condition } from '../condition.ts';
import { chanceLimitOf, type Situation } from '../situation.ts';
import { cutNow } from './cuts.ts';

/** A cell that every look missed keeps its own clock: its chance is told by itself. */
const missedMayBeOut = ({ windows, nowMs }: IntroductionState): boolean =>
  nowMs >= (windows.virginPossible?.fromMs ?? Infinity);

/** (c) and (e): no virgin may be loose. */
export function noVirgin(situation: Situation): Condition {
  const { state, nowMs } = situation;
  const { virgin } = state;
  const limit = chanceLimitOf(situation);
  const figure = cite('days to the first virgin', firstVirginDays);
  if (virgin.loose === 'seen') return virginInIt(state);
  const possible =
    (virgin.loose === 'possible' && !chanceIsSmall(virgin, limit)) ||
    (virgin.possibleFromMs !== null && nowMs >= virgin.possibleFromMs);
  if (!possible) {
    return met(
      virgin.chanceOut === null
        ? `No virgin can be loose${missedMayBeOut(state) ? ' but from a missed cell' : ''}: ${virgin.why}.`
        : `No virgin need be feared: ${virgin.why}.`,
      cite('days from a cell’s start to the virgin', shortestCellDays),
    );
  }
  const why = virgin.loose === 'possible' ? virgin.why : 'the last complete look is too long ago';
  const cellsMayStand = !frameTells(state);
  const settledBy = cellsMayStand
    ? 'a cut of every cell, then a test frame for two days'
    : (virgin.settledBy ?? 'a complete look');
  return blocked(
    'A virgin may be loose',
    `A virgin may be loose: ${why}. What settles it: ${settledBy}.`,
    cellsMayStand ? { first: cutNow(state, nowMs) } : byTestFrame(state),
    figure,
  );
}

export function testFrame(state: IntroductionState): Condition | null {
  const last = lastOf(state.testFrames);
  if (!last) return null;
  switch (last.answer) {
    case 'still-in':
      return pending(
        'Take the test frame out first',
        `A test frame with young brood is still in the nuc.${perhapsTaken(state.facts) ? ` ${wasThatIt}` : ''}`,
        { first: 'test-frame-out' },
      );
    case 'maybe-a-queen':
      return since(
        last.outMs ?? NaN,
        blocked(
          'A queen may be loose',
          'No queen cell was started on the test frame: a queen of some kind may be in the box.',
          heldBack(state) ? byTestFrame(state) : { first: 'take-queen-out' },
        ),
      );
    case 'queen-was-taken':
      return met(
        'No cell was started on the test frame, and the queen that held the bees back was taken away.',
      );
    case 'no-queen':
      return met('Queen cells were started on the test frame: no queen was in the box.');
    default:
      return unknown(
        'The test frame gave no answer: it was in for too short or too long, or its cells were not counted.',
      );
  }
}

/** A queenless box with young brood starts cells; where none was ever seen, eggs have to be looked for. */
export function someCellSeen({ looks, windows, testFrames }: IntroductionState): Condition | null {
  if (looks.second === null) return null;
  const cells = looks.all.reduce((sum, { cells: c }) => sum + c.open + c.sealed + c.tornDown + c.emerged, 0);
  const onFrame = testFrames.some((frame) => frame.answer === 'no-queen');
  if (cells > 0 || onFrame) return met('The bees started queen cells, as a queenless colony does.');
  const eggless = looks.late.some(
    (look) =>
      look.youngestBrood !== 'not-looked' &&
      (look.youngestBrood !== 'eggs' || look.eggsAreHers) &&
      look.atMs >= (windows.eggsOutOfTimeFromMs ?? Infinity),
  );
  return eggless
    ? unknown(
        'No queen cell was ever seen; no eggs either. A test frame would settle whether a queen is there.',
      )
    : pending(
        'Look for eggs first',
        'No queen cell was ever seen, and nobody looked for eggs: a queen may be in the box.',
        { first: 'look-through' },
      );
}
