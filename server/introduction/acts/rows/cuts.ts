/** Cutting cells: early, late enough to count, a second look, one more. */
import {
  firstCutDay,
  firstVirginDays,
  foragersLeaveDays,
  handsOffDays,
  mostCellsByDays,
  pushInCageDays,
  secondLookAfterDays,
  lowEnd,
} from '../../../biology/figures.ts';
import { dayNumber, startOfDayAfter } from '../../calendar.ts';
import { lastOf } from '../../effective-facts.ts';
import { leavesNoCell } from '../../looks.ts';
import { foragersStay } from '../../move-distance.ts';
import {
  cutWindow,
  late,
  oneMoreLookWindow,
  openWindow,
  ownQueenWindow,
  secondLookWindow,
  type StepWindow,
} from '../../plan-windows.ts';
import type { IntroductionState } from '../../state.ts';
import type { ActRow } from '../act.ts';
import type { ActKind, Draft } from '../draft.ts';
import { begun, moveDistance, notClosed, present } from '../common-conditions.ts';
import { cite, faulty, met, pending, unknown, type Condition } from '../condition.ts';
import { lookDone, soon, soonFor, type Situation } from '../situation.ts';
import { beginsWithSplit, cutOnTheDay, cutTwice, nothingToCut } from '../starts.ts';
import { say, type Sentence } from '../../../words/phrase.ts';
import { search } from '../words.ts';

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

/** Living cells that were seen since she was let out, and not cut. */
export const cellsAfterRelease = ({ looks, queen }: IntroductionState): boolean =>
  queen.releasedAtMs !== null && looks.leftStanding !== null && looks.leftStanding.atMs >= queen.releasedAtMs;

/** The last egg is this old, as far as anything tells. */
const lastEggMs = ({ evidence }: IntroductionState, fromMs: number): number =>
  evidence.lastFertileEgg.latestMs ?? fromMs;

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

function ownCut(situation: Situation, fromMs: number): Draft {
  const { state, nowMs, clock } = situation;
  const last = lastOf(state.looks.complete);
  const done = state.queen.releasedAtMs === null ? lookedToday(state) : last;
  return {
    ...late(ownRelease(situation, fromMs).release, nowMs, clock),
    done: lookDone(done),
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
      return queen.releasedAtMs !== null && !cut.done ? null : cut;
    }
    if (queen.releasedAtMs !== null && !looks.firstLate) return null;
    if (nothingToCut(state)) {
      return looks.leftStanding ? { ...soon(situation), why: ['Living cells were seen and left.'] } : null;
    }
    const queenlessMs = evidence.queenlessSince.earliestMs ?? fromMs;
    return {
      ...late(cutWindow(lastEggMs(state, fromMs), queenlessMs, clock), nowMs, clock),
      done: lookDone(looks.firstLate),
      why: [
        'From day 7 hardly a larva is young enough for another cell; before day 8½ no virgin has emerged.',
      ],
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
      ...window,
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

export const secondLook: ActRow = {
  kind: 'second-look',
  settles: 'what the first cut missed',
  draft: ({ state, draftOf, nowMs, clock }) => {
    const { looks, queen } = state;
    const cut = draftOf('cut-cells');
    if (!cut || !cutTwice(state) || (queen.releasedAtMs !== null && !looks.second)) return null;
    if (state.outcome && !looks.second) return null;
    const window = secondLookWindow(looks.firstLate?.atMs ?? cut.targetMs, clock);
    return {
      ...late(window, nowMs, clock),
      done: lookDone(looks.second),
      why: ['About day 10 a cell that the first look missed is still sealed and can be found.'],
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

export const oneMoreLook: ActRow = {
  kind: 'one-more-look',
  settles: 'what both looks missed',
  draft: (situation) => {
    const { state, sure, nowMs, clock } = situation;
    if (state.outcome || state.queen.releasedAtMs !== null || !cutTwice(state)) return null;
    const last = lastOf(state.looks.complete)?.atMs ?? nowMs;
    if (state.looks.leftStanding && state.looks.second)
      return { ...soon(situation), why: ['Living cells were seen and left.'] };
    const wanted = sure()?.oneMoreLook ? sure() : null;
    if (!wanted?.oneMoreLook) return null;
    return {
      ...late(oneMoreLookWindow(last, wanted.oneMoreLook.untilMs ?? last, clock), nowMs, clock),
      why: [wanted.condition.reason.text],
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
        'Larvae are left from which new cells can be started. You may cut before, but it can’t be the last cut.',
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
  if (moved && foragersStay(state.facts)) return moved;
  const { foragersGone, flyingDays } = evidence;
  const figure = cite('days until the old bees are gone', foragersLeaveDays);
  const days = flyingDays === undefined ? '' : ` Flying days since the move: ${String(flyingDays)}.`;
  const text = followed(foragersGone.text, days);
  if (foragersGone.answer === 'yes') return met(text, figure);
  // No reason to wait, and none to call it done.
  if (foragersGone.answer === 'nearly') return faulty(text, figure);
  if (foragersGone.answer === 'cannot-tell') return unknown(text);
  const virginFrom = state.windows.virginPossible?.fromMs ?? Infinity;
  const tomorrow = startOfDayAfter(nowMs, 1, state.setup.timeZone);
  if (state.looks.firstLate || tomorrow >= virginFrom) {
    return faulty(followed(text, ' The cut can’t wait for them any longer.'), figure);
  }
  return pending('The foragers are still leaving', text, { untilMs: tomorrow }, figure);
}

function earlyEnough({ state, nowMs }: Situation): Condition | null {
  const { virgin, windows, day0Ms } = state;
  if (day0Ms === null) return null;
  const figure = cite('days to the first virgin', firstVirginDays);
  const from = windows.virginPossible?.fromMs ?? null;
  if (virgin.loose === 'excluded' && (virgin.possibleFromMs === null || nowMs < virgin.possibleFromMs)) {
    return met('No virgin can have emerged yet.', figure);
  }
  return faulty(
    from !== null && nowMs < from
      ? `A virgin may be in the box: ${virgin.why}.`
      : 'A virgin may have emerged: look for opened tips and for a virgin, and log emerged and torn-down cells.',
    figure,
  );
}

function weather({ weather: w }: Situation['evidence']): Condition | null {
  if (!w) return null;
  if (w.fitToOpen === 'unknown') return unknown(w.text);
  return w.fitToOpen ? met(w.text) : faulty(w.text);
}

/** Once she is out the nuc is left alone, and cells are looked for with her. */
function handsOff({ state, nowMs }: Situation): Condition | null {
  const { queen, setup } = state;
  if (queen.releasedAtMs === null) return null;
  const untilMs = startOfDayAfter(queen.releasedAtMs, handsOffDays.value, setup.timeZone);
  return nowMs < untilMs
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
  const { state, nowMs, evidence } = situation;
  if (cellsAfterRelease(state)) {
    return present([
      notClosed(state),
      met('A living cell was seen after she was let out: cut it.'),
      weather(evidence),
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
    weather(evidence),
  ]);
}
