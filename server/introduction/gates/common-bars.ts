/** Conditions that more than one gate asks for. */
import { layingWorkersWatchDays } from '../../biology/figures.ts';
import { dayNumber } from '../calendar.ts';
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

/** Laying workers, and bees that bite at the cage. */
export function hiveSigns({ signs, windows, setup }: IntroductionState, nowMs: number): readonly Bar[] {
  const bars: Bar[] = [];
  const watchFrom = windows.layingWorkersWatchFromMs;
  const looked = signs.lookedForLayingWorkersAtMs;
  const figure = cite('days without a queen', layingWorkersWatchDays);
  if (signs.layingWorkers) {
    const what =
      signs.layingWorkers.what === 'several-eggs-a-cell'
        ? 'Several eggs in a cell'
        : 'Drone brood in worker cells';
    bars.push(stops('Laying workers', `${what}: workers are laying, and they kill a queen.`));
  } else if (watchFrom !== null && nowMs >= watchFrom) {
    const fresh = looked !== null && dayNumber(looked, nowMs, setup.timeZone) <= signsLast;
    bars.push(
      fresh
        ? holds('No sign of laying workers at the last look.', figure)
        : waits(
            'Look for laying workers first',
            'So long without a queen, workers may lay: look for several eggs a cell and drone brood in worker cells.',
            undefined,
            figure,
          ),
    );
  }
  bars.push(temper(signs));
  return bars;
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
