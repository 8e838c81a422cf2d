/** When cells may be cut or looked for. */
import {
  firstCutDay,
  firstVirginDays,
  foragersLeaveDays,
  handsOffDays,
  pushInCageDays,
  secondLookAfterDays,
  lowEnd,
} from '../../../biology/figures.ts';
import { dayNumber, startOfDayAfter } from '../../calendar.ts';
import { ofKind } from '../../log/effective-facts.ts';
import { earliestLook } from '../../queen/earliest-look.ts';
import { cellEmerged, cellsAfterRelease } from '../../cells/rival-seen.ts';
import { leavesNoCell } from '../../log/looks.ts';
import { foragersStay } from '../../log/move-distance.ts';
import type { IntroductionState } from '../../state.ts';
import { begun, notClosed, present } from '../common-conditions.ts';
import { cite, faulty, met, pending, unknown, type Condition } from '../condition.ts';
import { moveDistance } from '../move-condition.ts';
import type { ActKind } from '../draft.ts';
import type { Situation } from '../situation.ts';
import { earlierHandsOff, fitToOpen, over, perhapsBack } from './look-conditions.ts';
import { beginsWithSplit, cellsMayBeLeft, cutOnTheDay, cutTwice, nothingToCut } from '../starts.ts';
import { say, type Sentence } from '../../../words/phrase.ts';

/**
 * She was out before the cells were looked through twice, and is looked for today: every other frame is gone through in the
 * same visit, bees shaken off, while a cell may stand. A look for her misses more of them.
 */
export function lookForCellsToo(state: IntroductionState): boolean {
  const { queen, looks, windows, setup, nowMs, facts } = state;
  const { releasedAtMs } = queen;
  if (
    releasedAtMs === null ||
    !cellsMayBeLeft(state) ||
    nowMs > (windows.virginPossible?.untilMs ?? -Infinity)
  )
    return false;
  // Opened too early it is closed again at once: shaking bees in her days outside gets her killed.
  const { leastMs } = earliestLook(
    { ...queen, releasedAtMs, cageEmptyAtMs: null },
    setup.method,
    setup.timeZone,
  );
  const lookedToday = ofKind(facts, 'looked-for-queen').some(
    ({ atMs }) =>
      dayNumber(leastMs, atMs, setup.timeZone) >= 0 && dayNumber(atMs, nowMs, setup.timeZone) === 0,
  );
  return lookedToday && !looks.complete.some(({ atMs }) => atMs > releasedAtMs);
}

/** Which look for cells comes next. */
export const nextCut = (state: IntroductionState): ActKind => {
  if (!cutTwice(state) || !state.looks.firstLate) return 'cut-cells';
  return state.looks.second ? 'one-more-look' : 'second-look';
};

/** A last egg without a date was not laid before the split, nor before the youngest brood that was seen. */
function soonestWithoutDate({ evidence, setup, split }: IntroductionState, nowMs: number): Condition | null {
  const figure = cite('day of the first cut', firstCutDay);
  const weekAfter = (atMs: number): number => startOfDayAfter(atMs, firstCutDay.value, setup.timeZone);
  const afterSplit = split ? weekAfter(split.atMs) : -Infinity;
  const { lastEggNotBeforeMs } = evidence;
  const afterBrood = lastEggNotBeforeMs === null ? -Infinity : weekAfter(lastEggNotBeforeMs);
  const soonest = Math.max(afterSplit, afterBrood);
  if (nowMs >= soonest) return null;
  return pending(
    'Too early for the cut that counts',
    afterBrood > afterSplit
      ? 'The last egg has no date, but brood was seen or brought in from which new cells can still be started.'
      : 'The last egg has no date, but the split is not a week old: new cells can still be started.',
    { untilMs: soonest },
    figure,
  );
}

/** A look on the same day is the same look. */
function sameLook({ state, nowMs }: Situation): Condition | null {
  const { looks, setup } = state;
  // Cells that were seen since and left standing may be cut the same day.
  const last = looks.leftStanding ? undefined : looks.all.findLast(leavesNoCell);
  if (!last) return null;
  const second = looks.firstLate && !looks.second && cutTwice(state);
  const days = second ? lowEnd(secondLookAfterDays) : 1;
  const dayAfter = startOfDayAfter(
    second ? (looks.firstLate?.atMs ?? last.atMs) : last.atMs,
    days,
    setup.timeZone,
  );
  if (nowMs >= dayAfter) return null;
  return second
    ? pending(
        'The second look comes some days after the cut',
        'So soon after the cut a second look finds little more: leave it for some days.',
        { untilMs: dayAfter },
        cite('days to the second look', secondLookAfterDays),
      )
    : pending('Every frame was looked through today', 'Another look the same day finds little more.', {
        untilMs: dayAfter,
      });
}

/** The last look on every frame found sealed brood alone, or none, or the split got no open brood; and no frame came since. */
function noLarvaSeen({ looks, facts, split }: IntroductionState): boolean {
  const last = looks.all.findLast(({ youngestBrood }) => youngestBrood !== 'not-looked');
  if (!last) return split?.framesOfOpenBrood === 0 && ofKind(facts, 'brood-frame-added').length === 0;
  return (
    last.everyFrame &&
    last.shaken &&
    (last.youngestBrood === 'sealed-only' || last.youngestBrood === 'none') &&
    !ofKind(facts, 'brood-frame-added').some(({ atMs }) => atMs >= last.atMs)
  );
}

function lateEnough(situation: Situation): Condition {
  const { state, nowMs, draftOf } = situation;
  const { windows, looks } = state;
  const figure = cite('day of the first cut', firstCutDay);
  if (cutOnTheDay(state)) {
    const fromMs = draftOf('cut-cells')?.earliestMs ?? nowMs;
    return state.setup.method === 'push-in-cage' && nowMs < fromMs && !looks.leftStanding
      ? pending(
          'Cut on the day on which the mesh is lifted',
          'A cut before that day has to be made again.',
          { untilMs: fromMs },
          cite('days under the mesh', pushInCageDays),
        )
      : met('A laying queen of your own needs every cell cut on the day on which she is let out.');
  }
  if (looks.firstLate) return met('Cells were cut; another look finds what was missed.');
  if (nothingToCut(state)) return met('Any cell that stands may be cut: no larva is left for another.');
  const from = windows.lateCutFromMs;
  if (from === null) {
    return (
      soonestWithoutDate(state, nowMs) ??
      unknown(
        'The last egg has no date: this cut can’t count as the last one. Log the youngest brood you see.',
      )
    );
  }
  return nowMs >= from
    ? met('Late enough: from this day on hardly a larva is young enough for a new cell.', figure)
    : pending(
        'Too early for the cut that counts',
        noLarvaSeen(state)
          ? 'No larva was seen, and young ones are easily missed. You may cut before, but it can’t be the last cut.'
          : 'Larvae are left from which new cells can be started. You may cut before, but it can’t be the last cut.',
        { untilMs: from },
        figure,
      );
}

const followed = (text: Sentence, more: string): Sentence =>
  typeof text === 'string' ? `${text}${more}` : say`${text}${more}`;

/** Waiting for foragers ends where a virgin may emerge. */
function foragers({ state, evidence, nowMs }: Situation): Condition | null {
  if (!beginsWithSplit(state)) return null;
  const moved = moveDistance(state);
  if (foragersStay(state.facts)) return moved;
  const { foragersGone, flyingDays } = evidence;
  const figure = cite('days until the old bees are gone', foragersLeaveDays);
  const days = flyingDays === undefined ? '' : ` Flying days since the move: ${String(flyingDays)}.`;
  const text = followed(foragersGone.text, days);
  if (foragersGone.answer === 'yes') return met(text, figure);
  if (foragersGone.answer === 'cannot-tell') return unknown(text);
  const virginFrom = state.windows.virginPossible?.fromMs ?? Infinity;
  const tomorrow = startOfDayAfter(nowMs, 1, state.setup.timeZone);
  if (state.looks.firstLate || tomorrow >= virginFrom) {
    return faulty(followed(text, ' The cut can’t wait for them any longer.'), figure);
  }
  return pending('The foragers are still leaving', text, { untilMs: tomorrow }, figure);
}

function earlyEnough({ state, nowMs }: Situation): Condition | null {
  const { virgin, windows, looks, day0Ms } = state;
  if (day0Ms === null) return null;
  const figure = cite('days to the first virgin', firstVirginDays);
  const from = windows.virginPossible?.fromMs ?? null;
  if (virgin.loose === 'excluded' && (virgin.possibleFromMs === null || nowMs < virgin.possibleFromMs)) {
    const missed = looks.firstLate && !looks.second && from !== null && nowMs >= from;
    return missed
      ? unknown('The virgin of a missed cell may be out: look for opened tips and for her too.', figure)
      : met('No virgin can have emerged yet.', figure);
  }
  return faulty(
    from !== null && nowMs < from
      ? `A virgin may be in the box: ${virgin.why}.`
      : 'A virgin may have emerged: look for opened tips and for a virgin, and log emerged and torn-down cells.',
    figure,
  );
}

/** The days outside of one before; cells that were seen since are cut all the same. */
export const earlierLeftAlone = (state: IntroductionState, nowMs: number): Condition | null =>
  (state.looks.leftStanding?.atMs ?? -Infinity) >= (state.queen.earlierOutSinceMs ?? Infinity)
    ? null
    : earlierHandsOff(state, nowMs);

/** Once she is out the nuc is left alone, and cells are looked for with her. */
function handsOff(situation: Situation): Condition | null {
  const { state, nowMs } = situation;
  const { queen, setup } = state;
  if (queen.releasedAtMs === null)
    return earlierLeftAlone(state, nowMs) ?? (state.looks.leftStanding ? null : perhapsBack(situation));
  if (queen.where === 'dead' || queen.where === 'gone') return null;
  const untilMs = startOfDayAfter(queen.releasedAtMs, handsOffDays.value, setup.timeZone);
  return nowMs < untilMs && queen.firstEggsAtMs === null
    ? pending(
        'Hands off',
        'She was let out: a look for cells now can get the queen killed.',
        { untilMs },
        cite('days of hands off', handsOffDays),
      )
    : pending('Nothing to cut', 'She was let out: a cell that stands shows when you look for her.', {
        first: queen.firstEggsAtMs === null ? 'look-for-queen' : 'check-sealed-brood',
      });
}

function inItsTime(situation: Situation): Condition {
  const late = lateEnough(situation);
  return late.unmet ? late : (sameLook(situation) ?? late);
}

export function cutConditions(situation: Situation): readonly Condition[] {
  const { state, nowMs } = situation;
  // Of one that is dead nothing has to be saved: the age of the brood decides.
  if (cellsAfterRelease(state) && !over(state)) {
    return present([
      notClosed(state),
      met('A living cell was seen after she was let out: cut it.'),
      ...fitToOpen(situation, 'cut-after-release'),
    ]);
  }
  if (cellEmerged(state)) {
    return present([
      notClosed(state),
      pending(
        'Look for a virgin: a cell was not cut',
        'A living cell was seen and never cut: by now its virgin is out, or the bees tore it down.',
        { first: 'take-queen-out' },
      ),
    ]);
  }
  if (lookForCellsToo(state)) {
    return present([
      notClosed(state),
      met('The nuc is open to look for her, and cells may be left from before she came out.'),
      ...fitToOpen(situation, 'cut-after-release'),
    ]);
  }
  return present([
    notClosed(state),
    begun(state, nowMs),
    handsOff(situation),
    inItsTime(situation),
    foragers(situation),
    foragersStay(state.facts) ? null : moveDistance(state),
    earlyEnough(situation),
    ...fitToOpen(situation, nextCut(state)),
  ]);
}
