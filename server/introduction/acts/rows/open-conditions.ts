/**
 * May the candy end be opened? Only when the colony is hopelessly queenless: no cell, no virgin, no larva
 * to raise one from, no laying workers, calm at the cage. For a cage of mesh it is the lifting of the mesh.
 */
import { msPerHour } from '../../../biology/duration.ts';
import {
  cagedBeforeOpeningHours,
  firstVirginDays,
  missedCellShare,
  pushInCageDays,
  rearableLimitDays,
  rivalChanceLimit,
  secondLookAfterDays,
  shortestCellDays,
  lowEnd,
} from '../../../biology/figures.ts';
import { dayNumber, startOfDay, startOfDayAfter } from '../../calendar.ts';
import { lastOf } from '../../effective-facts.ts';
import { livingCells } from '../../looks.ts';
import type { IntroductionState } from '../../state.ts';
import {
  begun,
  byTestFrame,
  earlierQueenOut,
  hiveSigns,
  moveDistance,
  notClosed,
  present,
  queenlessness,
} from '../common-conditions.ts';
import { blocked, cite, faulty, met, pending, unknown, type Condition } from '../condition.ts';
import { foragersStay } from '../../move-distance.ts';
import type { Situation } from '../situation.ts';
import { cutOnTheDay, nothingToCut } from '../starts.ts';
import { frameTells, heldBack } from '../../test-frame-plan.ts';
import { cutNow, nextCut } from './cuts.ts';
import { workersMayLay } from './worker-conditions.ts';

function queenInCage({ queen, setup }: IntroductionState, nowMs: number): Condition {
  if (queen.where === 'dead') {
    return blocked('The queen is dead', 'The queen in the cage is logged as dead.', {
      first: 'queen-arrives',
    });
  }
  if (queen.where === 'gone') {
    return blocked('The queen is out', 'The queen is not in her cage any more.', { first: 'queen-arrives' });
  }
  if (queen.where === 'seen-loose') {
    return blocked('The queen is out', 'The queen is not in her cage any more.', {
      first: queen.releasedAtMs === null ? 'take-queen-out' : 'look-for-queen',
    });
  }
  if (queen.outByAccident) {
    return blocked('The queen is out', 'She got out of her cage without being let out.', {
      first: 'look-for-queen',
    });
  }
  if (queen.releasedAtMs !== null && queen.inCageSinceMs === null) {
    return setup.method === 'push-in-cage'
      ? blocked('She is out already', 'The mesh was lifted before.', { first: 'look-for-queen' })
      : blocked('Already open', 'The candy end was opened before.', { first: 'look-for-queen' });
  }
  if (queen.inCageSinceMs === null) {
    return pending('No queen hangs in the nuc', 'No caged queen is logged as hanging in this nuc.', {
      first: 'hang-cage',
    });
  }
  if (setup.method === 'push-in-cage') {
    const untilMs = startOfDayAfter(queen.inCageSinceMs, lowEnd(pushInCageDays), setup.timeZone);
    const figure = cite('days under the mesh', pushInCageDays);
    return nowMs >= untilMs
      ? met('The queen had days under the mesh among emerging bees.', figure)
      : pending(
          'The mesh stays on for some days',
          'The queen has not had three days under the mesh.',
          { untilMs },
          figure,
        );
  }
  if (setup.startingPoint === 'own-laying-queen') return met('The queen hangs in her cage.');
  const untilMs = queen.inCageSinceMs + cagedBeforeOpeningHours.value * msPerHour;
  const figure = cite('hours in the cage', cagedBeforeOpeningHours);
  return nowMs >= untilMs
    ? met('The queen has hung among the bees for a day or more.', figure)
    : pending(
        'The cage has hung for less than a day',
        'Let her hang a day, then watch the bees on the cage.',
        { untilMs },
        figure,
      );
}

/** (a) Nothing left from which a queen could be raised. */
function nothingRearable({ windows, evidence }: IntroductionState, nowMs: number): Condition {
  const figure = cite('days from the last egg', rearableLimitDays);
  const { nothingRearableFromMs: untilMs } = windows;
  if (untilMs === null) {
    return pending(
      'It is not known when the last egg was laid',
      'Look on every frame for the youngest brood and log it: the last egg has no date yet.',
      { first: 'look-through' },
    );
  }
  const restsOn = evidence.lastFertileEgg.restsOn.join('; ');
  return nowMs >= untilMs
    ? met(`No larva is left that is young enough for a queen (${restsOn}).`, figure)
    : pending(
        'Larvae are still young enough for a queen',
        `The last larvae may still be young enough for a queen (${restsOn}).`,
        { untilMs },
        figure,
      );
}

const cellsStand = (state: IntroductionState): Condition | null =>
  state.looks.leftStanding
    ? pending(
        'Queen cells stand: cut them first',
        `${String(livingCells(state.looks.leftStanding))} living queen cells were seen and left.`,
        { first: nextCut(state) },
      )
    : null;

/** (b) A complete cut late enough, and a second complete look some days on. */
function cutTwice(state: IntroductionState, nowMs: number): readonly Condition[] {
  const { looks, windows, setup } = state;
  const standing = cellsStand(state);
  if (standing) return [standing];
  const { firstLate, second } = looks;
  if (!firstLate) {
    const from = windows.lateCutFromMs;
    const text = 'No complete cut (every frame, bees shaken off) on day 7 after the last egg or later.';
    if (from === null || nowMs >= from) return [pending('Cut the cells first', text, { first: 'cut-cells' })];
    const untilMs = startOfDayAfter(from, secondLookAfterDays.value, setup.timeZone);
    return [
      pending('Cells are cut on day 7 and looked for again on day 10', text, { first: 'cut-cells', untilMs }),
    ];
  }
  const cut = looks.late.some(({ atMs }) => dayNumber(firstLate.atMs, atMs, setup.timeZone) <= 1)
    ? met('Cells were cut on every frame, late enough.')
    : unknown('Cells were cut late enough, but not on every frame with the bees shaken off.');
  if (second) return [cut, met('A second complete look was made some days later.')];
  const untilMs = startOfDayAfter(firstLate.atMs, secondLookAfterDays.value, setup.timeZone);
  const text = 'The second complete look, about three days after the first late cut, is not logged.';
  const figure = cite('days to the second look', secondLookAfterDays);
  return [
    cut,
    nowMs < untilMs
      ? pending('A second look comes first', text, { first: 'second-look', untilMs }, figure)
      : pending('Look through every frame again first', text, { first: 'second-look' }, figure),
  ];
}

/** Where nothing is left to raise a queen from, one complete look that found no cell is enough. */
function lookedOnce(state: IntroductionState): Condition {
  const standing = cellsStand(state);
  if (standing) return standing;
  return state.looks.complete.length > 0
    ? met('Every frame was looked through, and no cell is left.')
    : pending(
        'Look through every frame first',
        'No complete look (every frame, bees shaken off) is logged.',
        {
          first: 'look-through',
        },
      );
}

/** A laying queen from one's own stock: cut just before, larvae may be left. */
function cutJustBefore({ looks, setup }: IntroductionState, nowMs: number): Condition {
  const last = lastOf(looks.complete);
  const fresh =
    last !== undefined && startOfDay(last.atMs, setup.timeZone) === startOfDay(nowMs, setup.timeZone);
  return fresh && !looks.leftStanding
    ? met('Every frame was looked through today and what stood was cut.')
    : pending(
        'Cut the cells first',
        'A laying queen from your own stock still needs every cell cut on the day.',
        { first: 'cut-cells' },
      );
}

const oneLookOnly: Condition = unknown(
  'One look misses about one cell in eleven; that the bees tear down what is left, once a laying queen is out, is common practice.',
  cite('share of cells that a look misses', missedCellShare),
);

/** (c) and (e): no virgin may be loose. */
function noVirgin(state: IntroductionState, limit: number, nowMs: number): Condition {
  const { virgin } = state;
  const figure = cite('days to the first virgin', firstVirginDays);
  if (virgin.loose === 'seen')
    return blocked('A virgin is in the box', 'A virgin was seen and is not logged as taken away.', {
      first: 'take-queen-out',
    });
  const small = virgin.chanceOut !== null && virgin.chanceOut <= limit && virgin.possibleFromMs === null;
  const possible =
    (virgin.loose === 'possible' && !small) ||
    (virgin.possibleFromMs !== null && nowMs >= virgin.possibleFromMs);
  if (!possible) {
    return met(
      virgin.chanceOut === null
        ? `No virgin can be loose: ${virgin.why}.`
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

function testFrame(state: IntroductionState): Condition | null {
  const last = lastOf(state.testFrames);
  if (!last) return null;
  switch (last.answer) {
    case 'still-in':
      return pending('Take the test frame out first', 'A test frame with young brood is still in the nuc.', {
        first: 'test-frame-out',
      });
    case 'maybe-a-queen':
      return blocked(
        'A queen may be loose',
        'No queen cell was started on the test frame: a queen of some kind may be in the box.',
        heldBack(state) ? byTestFrame(state) : { first: 'take-queen-out' },
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
function someCellSeen({ looks, windows, testFrames }: IntroductionState): Condition | null {
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

export function openConditions(situation: Situation): readonly Condition[] {
  const { state, nowMs, evidence, sure } = situation;
  const notBegun = begun(state, nowMs);
  if (notBegun) return present([notClosed(state), notBegun]);
  const own = cutOnTheDay(state);
  const cuts = (): readonly Condition[] => {
    if (own) return [cutJustBefore(state, nowMs), oneLookOnly];
    if (nothingToCut(state)) return [nothingRearable(state, nowMs), lookedOnce(state)];
    return [nothingRearable(state, nowMs), ...cutTwice(state, nowMs)];
  };
  const limit = evidence.chanceLimit ?? rivalChanceLimit.value;
  const conditions = present([
    notClosed(state),
    queenInCage(state, nowMs),
    earlierQueenOut(state),
    queenlessness(state, nowMs),
    ...cuts(),
    noVirgin(state, limit, nowMs),
    testFrame(state),
    own || nothingToCut(state) ? null : someCellSeen(state),
    ...hiveSigns(state, nowMs),
    workersMayLay(situation, limit),
    moveDistance(state),
    evidence.foragersGone.answer === 'no' && !foragersStay(state.facts)
      ? faulty(evidence.foragersGone.text)
      : null,
  ]);
  return [...conditions, ...sureOf(own, conditions, sure)];
}

/** The chance decides last: a stop needs no figure. */
function sureOf(
  own: boolean,
  conditions: readonly Condition[],
  sure: Situation['sure'],
): readonly Condition[] {
  const stopped = conditions.some(({ unmet }) => unmet?.answer === 'stop');
  const found = own || stopped ? null : sure();
  return found ? [found.condition] : [];
}
