/** A queen who is awaited without a day: hers went by, or she came and went to another nuc. */
import { dayNumber } from '../../calendar.ts';
import type { IntroductionState } from '../../state.ts';
import { comesMsOf } from './late-queen.ts';

/** Setting: a queen is early by so many days at most. */
const earlyDays = 3;

/** The queen who was expected came, and is not for this nuc any more: another one has no day yet. */
export const cameAndWent = ({ queen, setup, facts }: IntroductionState): boolean =>
  queen.where === 'not-here' &&
  facts.some(
    ({ atMs, fact: { kind } }) =>
      (kind === 'queen-arrived' || kind === 'cage-hung') &&
      dayNumber(setup.expectedQueenMs ?? atMs, atMs, setup.timeZone) >= -earlyDays,
  );

/** Her day went by, and neither she nor her delivery is logged. */
export const didNotCome = (state: IntroductionState): boolean =>
  state.queen.where === 'not-here' &&
  !state.setup.deliveryIsHere &&
  state.setup.expectedQueenMs !== undefined &&
  comesMsOf(state) === null;
