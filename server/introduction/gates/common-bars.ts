/** Conditions that more than one gate asks for. */
import { calmAfterBallingDays, layingWorkersWatchDays } from '../../biology/figures.ts';
import { dayNumber, startOfDayAfter } from '../calendar.ts';
import type { IntroductionState } from '../state.ts';
import { cite, holds, notKnown, stops, waits, type Bar } from './gate.ts';

export const notClosed = ({ outcome }: IntroductionState): Bar | null =>
  outcome
    ? stops(
        'This introduction is closed',
        `The outcome “${outcome.outcome}” is logged: open a new introduction.`,
      )
    : null;

/** No queen of any kind is known or feared in the box, by what the log shows. */
export function queenlessness({ evidence }: IntroductionState): Bar {
  const { queenless, queenlessWhy } = evidence;
  if (queenless === 'shown') return holds(`Queenless: ${queenlessWhy}.`);
  const text = `${queenlessWhy.charAt(0).toUpperCase()}${queenlessWhy.slice(1)}.`;
  return queenless === 'contradicted'
    ? stops('A queen may be in the box', text)
    : waits(
        'Show first that the box is queenless',
        `${text} Look for eggs on every frame after day 4, or give a test frame.`,
      );
}

/** A look for signs of laying workers counts for this many calendar days once they are likely. */
const signsLast = 3;

/** Another queen would meet the one that was let out before her. */
export function earlierQueenOut({ queen }: IntroductionState): Bar | null {
  return queen.earlierMayBeOut
    ? stops(
        'An earlier queen may be out',
        'A queen was let out before, and that she was not found does not show that she is gone: look again after four to five days, then give a test frame.',
      )
    : null;
}

/** Signs of laying workers, and a look for them once they are likely; null before. */
export function layingWorkers({ signs, windows, setup }: IntroductionState, nowMs: number): Bar | null {
  const watchFrom = windows.layingWorkersWatchFromMs;
  const looked = signs.lookedForLayingWorkersAtMs;
  const figure = cite('days without a queen', layingWorkersWatchDays);
  if (signs.layingWorkers) {
    const what =
      signs.layingWorkers.what === 'several-eggs-a-cell'
        ? 'Several eggs in a cell'
        : 'Drone brood in worker cells';
    return stops('Laying workers', `${what}. Workers are laying, and they kill a queen.`);
  }
  if (watchFrom === null || nowMs < watchFrom) return null;
  const fresh = looked !== null && dayNumber(looked, nowMs, setup.timeZone) <= signsLast;
  return fresh
    ? holds('No sign of laying workers at the last look.', figure)
    : waits(
        'Look for laying workers first',
        'So long without a queen, workers may lay: look for several eggs a cell and drone brood in worker cells, the signs of laying workers.',
        undefined,
        figure,
      );
}

/** Laying workers, a queen that was balled, and bees that bite at the cage. */
export const hiveSigns = (state: IntroductionState, nowMs: number): readonly Bar[] =>
  [layingWorkers(state, nowMs), afterBalling(state, nowMs), temper(state.signs)].filter(
    (bar) => bar !== null,
  );

/** A balling stands until its cause was looked for and the bees were calm at the cage some days later. */
function afterBalling({ signs, looks, setup }: IntroductionState, nowMs: number): Bar | null {
  const { balledAtMs, atTheCage } = signs;
  if (balledAtMs === null) return null;
  const figure = cite('days to calm bees after a balling', calmAfterBallingDays);
  const searched = looks.all.some(
    (look) => look.complete && dayNumber(balledAtMs, look.atMs, setup.timeZone) >= 0,
  );
  if (!searched) {
    return stops(
      'She was balled',
      'A queen was balled, and nobody has looked for the cause: look on every frame, bees shaken off, for a cell and a virgin.',
    );
  }
  const fromMs = startOfDayAfter(balledAtMs, calmAfterBallingDays.value, setup.timeZone);
  if (nowMs < fromMs) {
    return waits(
      'She was balled',
      'A queen was balled: watch the bees on the cage again after some days.',
      fromMs,
      figure,
    );
  }
  return atTheCage !== null && atTheCage.atMs >= fromMs && atTheCage.what !== 'biting'
    ? holds('Days after the balling the bees were calm at the cage.', figure)
    : waits(
        'Watch the bees on the cage first',
        'A queen was balled, and no calm bees at the cage are logged since these days have passed.',
        undefined,
        figure,
      );
}

function temper(signs: IntroductionState['signs']): Bar {
  const { atTheCage, temperament } = signs;
  if (atTheCage?.what === 'biting') {
    return stops(
      'The bees bite at the cage',
      'They bite, cling or try to sting: look for a cell, a virgin or a larva, and wait.',
    );
  }
  const angry = temperament?.what === 'hostile' && temperament.atMs > (atTheCage?.atMs ?? -Infinity);
  if (angry)
    return stops(
      'The bees are hostile',
      'The bees were hostile at the last visit: watch them on the cage first.',
    );
  return atTheCage
    ? holds('The bees were calm at the cage.')
    : notKnown(
        'Watch the bees on the cage before you open it: feeding and fanning is good, biting and clinging is not.',
      );
}
