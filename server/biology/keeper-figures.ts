/** How keepers look, write down and judge: what nobody states, and is reckoned with all the same. */
import { assumed } from './figure.ts';

export const visitHours = assumed(6, 'h', 'facts of one nuc this close together are one visit', 2, 8);
export const combsInNuc = assumed(5, 'frames', 'brood and stores of a nuc where nobody counted them', 4, 6);
export const layingWorkersLookDays = assumed(
  3,
  'd',
  'so long a look for the signs of laying workers counts, once they are likely',
  1,
  4,
);
export const lateLarvaeDays = assumed(
  4,
  'd',
  'so long after the last open brood is due to be capped a larva near sealing is still seen, or taken for one',
  2,
  5,
);
export const looksForOneCell = assumed(3, 'looks', 'more than this nobody makes for one cell', 2, 4);
export const missedCellsCounted = assumed(
  200,
  'cells',
  'an eye changes: looked-at cells that speak for how many it misses, at most',
  100,
  400,
);
export const lookWindowDays = assumed(
  4,
  'd',
  'later than this after its day the look for her is overdue',
  2,
  7,
);
export const sealedBroodWindowDays = assumed(
  5,
  'd',
  'a look for her sealed brood comes this long after the sealing at the latest',
  2,
  12,
);
export const testFrameWindowDays = assumed(4, 'd', 'a test frame that is asked for is put in within', 2, 7);
export const usualVisitHour = assumed(10, 'h of the day', 'when keepers go to their hives', 8, 17);
export const bitingTooLongDays = assumed(
  3,
  'd',
  'bees that bite for so many days in a row have a cause that no look found',
  2,
  4,
);
