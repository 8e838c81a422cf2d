/**
 * May the candy end be opened? Only when the colony is hopelessly queenless: no cell, no virgin, no larva
 * to raise one from, no laying workers, calm at the cage. For a cage of mesh it is the lifting of the mesh.
 */
import { msPerHour } from '../../biology/duration.ts';
import {
  cagedBeforeOpeningHours,
  firstVirginDays,
  missedCellShare,
  pushInCageDays,
  rearableLimitDays,
  secondLookAfterDays,
  shortestCellDays,
  lowEnd,
} from '../../biology/figures.ts';
import { startOfDay, startOfDayAfter } from '../calendar.ts';
import { lastOf } from '../effective-facts.ts';
import { livingCells } from '../looks.ts';
import type { IntroductionState } from '../state.ts';
import {
  cite,
  decide,
  holds,
  notKnown,
  stops,
  waits,
  type Bar,
  type Gate,
  type GateEvidence,
} from './gate.ts';
import { earlierQueenOut, hiveSigns, notClosed, queenlessness } from './common-bars.ts';
import { cutsAreSure } from './sure-cuts.ts';
import { withOverride } from './override.ts';

function queenInCage({ queen, setup }: IntroductionState, nowMs: number): Bar {
  if (queen.where === 'dead') return stops('The queen is dead', 'The queen in the cage is logged as dead.');
  if (queen.where === 'seen-loose' || queen.where === 'gone') {
    return stops('The queen is out', 'The queen is not in her cage any more.');
  }
  if (queen.outByAccident) return stops('The queen is out', 'She got out of her cage without being let out.');
  if (queen.releasedAtMs !== null) {
    return setup.method === 'push-in-cage'
      ? stops('She is out already', 'The mesh was lifted before.')
      : stops('Already open', 'The candy end was opened before.');
  }
  if (queen.inCageSinceMs === null) {
    return waits('No queen hangs in the nuc', 'No caged queen is logged as hanging in this nuc.');
  }
  if (setup.method === 'push-in-cage') {
    const from = startOfDayAfter(queen.inCageSinceMs, lowEnd(pushInCageDays), setup.timeZone);
    const figure = cite('days under the mesh', pushInCageDays);
    return nowMs >= from
      ? holds('The queen had days under the mesh among emerging bees.', figure)
      : waits(
          'The mesh stays on for some days',
          'The queen has not had three days under the mesh.',
          from,
          figure,
        );
  }
  if (setup.startingPoint === 'own-laying-queen') return holds('The queen hangs in her cage.');
  const from = queen.inCageSinceMs + cagedBeforeOpeningHours.value * msPerHour;
  const figure = cite('hours in the cage', cagedBeforeOpeningHours);
  return nowMs >= from
    ? holds('The queen has hung among the bees for a day or more.', figure)
    : waits(
        'The cage has hung for less than a day',
        'Let her hang a day, then watch the bees on the cage.',
        from,
        figure,
      );
}

/** (a) Nothing left from which a queen could be raised. */
function nothingRearable({ windows, evidence }: IntroductionState, nowMs: number): Bar {
  const figure = cite('days from the last egg', rearableLimitDays);
  const { nothingRearableFromMs: from } = windows;
  if (from === null) {
    return waits(
      'It is not known when the last egg was laid',
      'Look on every frame for the youngest brood and log it: the last egg has no date yet.',
    );
  }
  const restsOn = evidence.lastFertileEgg.restsOn.join('; ');
  return nowMs >= from
    ? holds(`No larva is left that is young enough for a queen (${restsOn}).`, figure)
    : waits(
        'Larvae are still young enough for a queen',
        `Workers could still raise a queen from a larva (${restsOn}).`,
        from,
        figure,
      );
}

/** (b) A complete cut late enough, and a second complete look some days on. */
function cutTwice({ looks, windows, setup }: IntroductionState, nowMs: number): readonly Bar[] {
  if (looks.leftStanding) {
    return [
      waits(
        'Queen cells stand: cut them first',
        `${String(livingCells(looks.leftStanding))} living queen cells were seen and left.`,
      ),
    ];
  }
  const { firstLate, second } = looks;
  if (!firstLate) {
    const from = windows.lateCutFromMs;
    const text = 'No complete cut (every frame, bees shaken off) on day 7 after the last egg or later.';
    if (from === null || nowMs >= from) return [waits('Cut the cells first', text)];
    const second = startOfDayAfter(from, secondLookAfterDays.value, setup.timeZone);
    return [waits('Cells are cut on day 7 and looked for again on day 10', text, second)];
  }
  const cut = holds('Cells were cut on every frame, late enough.');
  if (second) return [cut, holds('A second complete look was made some days later.')];
  const from = startOfDayAfter(firstLate.atMs, secondLookAfterDays.value, setup.timeZone);
  const text = 'The second complete look, about three days after the first late cut, is not logged.';
  const figure = cite('days to the second look', secondLookAfterDays);
  return [
    cut,
    nowMs < from
      ? waits('A second look comes first', text, from, figure)
      : waits('Look through every frame again first', text, undefined, figure),
  ];
}

/** A laying queen from one's own stock: cut just before, larvae may be left. */
function cutJustBefore({ looks, setup }: IntroductionState, nowMs: number): Bar {
  const last = lastOf(looks.complete);
  const fresh =
    last !== undefined && startOfDay(last.atMs, setup.timeZone) === startOfDay(nowMs, setup.timeZone);
  return fresh && !looks.leftStanding
    ? holds('Every frame was looked through today and what stood was cut.')
    : waits(
        'Cut the cells first',
        'A laying queen from your own stock still needs every cell cut on the day.',
      );
}

const oneLookOnly: Bar = {
  reason: {
    ok: 'unknown',
    text: 'One look misses about one cell in eleven; that the bees tear down what is left, once a laying queen is out, is common practice.',
    figure: cite('share of cells that a look misses', missedCellShare),
  },
};

/** (c) and (e): no virgin may be loose. */
function noVirgin({ virgin }: IntroductionState, nowMs: number): Bar {
  const figure = cite('days to the first virgin', firstVirginDays);
  if (virgin.loose === 'seen')
    return stops('A virgin is in the box', 'A virgin was seen and is not logged as taken away.');
  const possible =
    virgin.loose === 'possible' || (virgin.possibleFromMs !== null && nowMs >= virgin.possibleFromMs);
  if (!possible) {
    return holds(
      `No virgin can be loose: ${virgin.why}.`,
      cite('days from a cell’s start to the virgin', shortestCellDays),
    );
  }
  const why = virgin.loose === 'possible' ? virgin.why : 'the last complete look is too long ago';
  return stops(
    'A virgin may be loose',
    `A virgin may be loose: ${why}. What settles it: ${virgin.settledBy ?? 'a complete look'}.`,
    figure,
  );
}

function testFrame({ testFrames }: IntroductionState): Bar | null {
  const last = lastOf(testFrames);
  if (!last) return null;
  switch (last.answer) {
    case 'still-in':
      return waits('Take the test frame out first', 'A test frame with young brood is still in the nuc.');
    case 'maybe-a-queen':
      return stops(
        'A queen may be loose',
        'No queen cell was started on the test frame: a queen of some kind may be in the box.',
      );
    case 'queen-was-taken':
      return holds(
        'No cell was started on the test frame, and the queen that held the bees back was taken away.',
      );
    case 'no-queen':
      return holds('Queen cells were started on the test frame: no queen was in the box.');
    default:
      return notKnown(
        'The test frame gave no answer: it was in for too short or too long, or its cells were not counted.',
      );
  }
}

/** A queenless box with young brood starts cells; where none was ever seen, eggs have to be looked for. */
function someCellSeen({ looks, windows }: IntroductionState): Bar | null {
  if (looks.second === null) return null;
  const cells = looks.all.reduce((sum, { cells: c }) => sum + c.open + c.sealed + c.tornDown + c.emerged, 0);
  if (cells > 0) return holds('The bees started queen cells, as a queenless colony does.');
  const eggless = looks.late.some(
    (look) =>
      look.youngestBrood !== 'not-looked' &&
      look.youngestBrood !== 'eggs' &&
      look.atMs >= (windows.eggsOutOfTimeFromMs ?? Infinity),
  );
  return eggless
    ? notKnown(
        'No queen cell was ever seen; no eggs either. A test frame would settle whether a queen is there.',
      )
    : waits(
        'Look for eggs first',
        'No queen cell was ever seen, and nobody looked for eggs: a queen may be in the box.',
      );
}

const goHeadline = { 'candy-cage': 'Open the candy end', 'push-in-cage': 'Lift the mesh' } as const;

export function mayOpenCandy(state: IntroductionState, evidence: GateEvidence, nowMs: number): Gate {
  const own = state.setup.startingPoint === 'own-laying-queen';
  const bars = [
    notClosed(state),
    queenInCage(state, nowMs),
    earlierQueenOut(state),
    queenlessness(state),
    ...(own
      ? [cutJustBefore(state, nowMs), oneLookOnly]
      : [nothingRearable(state, nowMs), ...cutTwice(state, nowMs)]),
    noVirgin(state, nowMs),
    testFrame(state),
    own ? null : someCellSeen(state),
    ...hiveSigns(state, nowMs),
    evidence.foragersGone.answer === 'no'
      ? { reason: { ok: false, text: evidence.foragersGone.text } }
      : null,
  ].filter((bar): bar is Bar => bar !== null);
  const stopped = bars.some((bar) => bar.bars?.answer === 'stop');
  const sure = own || stopped ? null : cutsAreSure(state, evidence, nowMs);
  const gate = decide('open-candy', sure ? [...bars, sure.bar] : bars, goHeadline[state.setup.method]);
  return withOverride(state, {
    ...gate,
    ...(sure ? { chanceOfStandingCell: sure.chance } : {}),
    ...(sure?.oneMoreLook ? { oneMoreLook: sure.oneMoreLook } : {}),
  });
}
