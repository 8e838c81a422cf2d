/**
 * May the candy end be opened? Only when the colony is hopelessly queenless: no cell, no virgin, no larva
 * to raise one from, no laying workers, calm at the cage. For a cage of mesh it is the lifting of the mesh.
 */
import { msPerHour } from '../../../biology/duration.ts';
import {
  cagedBeforeOpeningHours,
  missedCellShare,
  pushInCageDays,
  rearableLimitDays,
  secondLookAfterDays,
  lowEnd,
} from '../../../biology/figures.ts';
import { dayNumber, startOfDay, startOfDayAfter } from '../../calendar.ts';
import { lastOf } from '../../log/effective-facts.ts';
import { livingCells } from '../../log/looks.ts';
import type { IntroductionState } from '../../state.ts';
import {
  begun,
  earlierQueenOut,
  leftTogether,
  notClosed,
  present,
  queenlessness,
} from '../common-conditions.ts';
import { blocked, cite, faulty, met, pending, unknown, type Condition } from '../condition.ts';
import { hiveSigns } from '../hive-signs.ts';
import { moveDistance } from '../move-condition.ts';
import { foragersStay } from '../../log/move-distance.ts';
import type { Situation } from '../situation.ts';
import { letOutByHand } from '../../queen/let-out-by-hand.ts';
import { cutOnTheDay, nothingToCut } from '../starts.ts';
import { cutNow, notCalm } from './cuts.ts';
import { beesForHer } from './hang-conditions.ts';
import { noVirgin, someCellSeen, testFrame } from './loose-queen-conditions.ts';
import { workersMayLay } from './worker-conditions.ts';

function queenInCage(state: IntroductionState, nowMs: number): Condition {
  const { queen, setup } = state;
  if (queen.where === 'dead') {
    return blocked('The queen is dead', 'The queen for this nuc is logged as dead.', {
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
  if (queen.besideAnother)
    return blocked(
      'Two caged queens hang in it',
      'By the log two caged queens hang in it: take one out first.',
      {
        first: 'take-cage-out',
      },
    );
  if (queen.releasedAtMs !== null && queen.inCageSinceMs === null) {
    return letOutByHand(state)
      ? blocked(
          'She is out already',
          setup.method === 'push-in-cage'
            ? 'The mesh was lifted before.'
            : 'She was let out of her cage before.',
          { first: 'look-for-queen' },
        )
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
  if (cutOnTheDay({ setup, queen })) return met('The queen hangs in her cage.');
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
  // Named once, the last that count: looks that saw the same say no more.
  const known = [...new Set(evidence.lastFertileEgg.restsOn)].slice(-2).join('; ');
  const restsOn = known === '' ? '' : ` This rests on: ${known}.`;
  return nowMs >= untilMs
    ? met(`No larva is left that is young enough for a queen.${restsOn}`, figure)
    : pending(
        'Larvae are still young enough for a queen',
        `The last larvae may still be young enough for a queen.${restsOn}`,
        { untilMs },
        figure,
      );
}

const cellsLeft = (cells: number): string =>
  cells === 1
    ? 'A living queen cell was seen and left.'
    : `${String(cells)} living queen cells were seen and left.`;

const cellsStand = (state: IntroductionState): Condition | null =>
  state.looks.leftStanding
    ? pending('Queen cells stand: cut them first', cellsLeft(livingCells(state.looks.leftStanding)), {
        first: cutNow(state, state.nowMs),
      })
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
    return [pending('Cells are cut first, then looked for again', text, { first: 'cut-cells', untilMs })];
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

/** Where nothing is left to raise a queen from, and no cell was seen, one complete look is enough. */
function lookedOnce(state: IntroductionState): Condition {
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
function cutJustBefore({ looks, setup }: IntroductionState, nowMs: number, calm: boolean): Condition {
  const last = lastOf(looks.complete);
  const fresh =
    last !== undefined && startOfDay(last.atMs, setup.timeZone) === startOfDay(nowMs, setup.timeZone);
  if (fresh && !looks.leftStanding)
    return met('Every frame was looked through today and what stood was cut.');
  const text = 'A laying queen from your own stock still needs every cell cut on the day.';
  // The bees at her cage are watched before, in the same visit.
  return calm ? pending('Cut the cells first', text, { first: 'cut-cells' }) : faulty(text);
}

const oneLookOnly: Condition = unknown(
  'One look misses about one cell in eleven; that the bees tear down what is left, once a laying queen is out, is common practice.',
  cite('share of cells that a look misses', missedCellShare),
);

export function openConditions(situation: Situation): readonly Condition[] {
  const { state, nowMs, evidence, sure } = situation;
  const notBegun = begun(state, nowMs);
  if (notBegun) return present([notClosed(state), notBegun]);
  const own = cutOnTheDay(state);
  const signs = hiveSigns(state, nowMs);
  const calm = !notCalm(situation);
  const cuts = (): readonly Condition[] => {
    if (own) return [cutJustBefore(state, nowMs, calm), oneLookOnly];
    if (nothingToCut(state)) return [nothingRearable(state, nowMs), lookedOnce(state)];
    return [nothingRearable(state, nowMs), ...cutTwice(state, nowMs)];
  };
  const conditions = present([
    notClosed(state),
    queenInCage(state, nowMs),
    earlierQueenOut(state),
    queenlessness(state, nowMs),
    ...cuts(),
    noVirgin(situation),
    testFrame(state),
    own || nothingToCut(state) ? null : someCellSeen(state),
    ...signs,
    workersMayLay(situation),
    beesForHer(state),
    leftTogether(state, evidence),
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
