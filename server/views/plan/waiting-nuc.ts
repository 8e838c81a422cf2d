/** A nuc that waits for its queen: until when it can, and what it can do until she comes. */
import { isoDate } from '../../introduction/calendar.ts';
import {
  barredFor,
  canWait,
  comesMsOf,
  lateChoices,
  queenIsLate,
  queenMayBeIn,
  wantsQueen,
} from '../../introduction/acts/days/late-queen.ts';
import type { Clock } from '../../introduction/acts/days/plan-windows.ts';
import { nucPopulation } from '../../introduction/population.ts';
import type { IntroductionState } from '../../introduction/state.ts';
import type { Waiting } from '../../contract/waiting.ts';
import { driftMeasured } from '../../watch/bees-now.ts';
import type { NucAnalysis } from '../../watch/nuc-analysis.ts';

export const visitHour = 10;

/** A nuc with an introduction that has a state. */
export type Begun = NucAnalysis & { readonly state: IntroductionState };

export const clockOf = ({ site }: NucAnalysis): Clock => ({ timeZone: site.timeZone, visitHour });
export const projectionOf = ({ state, signals }: Begun) =>
  nucPopulation(state, driftMeasured(signals))?.projection ?? null;

/** What a nuc that wants a queen can do until she comes; null where it wants none. */
export function waitingOf(analysis: NucAnalysis): Waiting | null {
  const { state } = analysis;
  if (!state || !wantsQueen(state) || state.day0Ms === null) return null;
  return waitingToWire({ ...analysis, state }, comesMsOf(state));
}

export function waitingToWire(analysis: Begun, comesMs: number | null): Waiting {
  const { state, site } = analysis;
  const projection = projectionOf(analysis);
  const date = (atMs: number | null): string | null => (atMs === null ? null : isoDate(atMs, site.timeZone));
  const unsplit = state.setup.startingPoint === 'planned-split' && state.split === null;
  // Where no queen may go in, none is waited for.
  const until =
    unsplit || barredFor(state) !== null || queenMayBeIn(state) ? null : canWait(state, projection);
  return {
    comesOn: date(comesMs),
    waitsUntil: date(until && until.because !== 'look-first' ? until.untilMs : null),
    late: queenIsLate(state, comesMs),
    choices: lateChoices(state, projection, comesMs, clockOf(analysis)).map(({ kind, fits, atMs, text }) => ({
      kind,
      fits,
      on: date(atMs),
      text,
    })),
  };
}
