/** What the forager drift is worked out from: readings, flying weather, steps and visits since the move. */
import type { Bins } from '../bins.ts';
import { hourMs } from '../series.ts';
import type { Estimate, KnownEvent, Series, WeightStep } from '../types.ts';
import type { DriftBeliefs } from './drift-beliefs.ts';
import type { Flown } from './drift-summary.ts';
import type { Flight } from './flight.ts';

/** Method: the fit looks no further than this from the move: by then they have gone, and other things weigh more. */
export const driftWindowMs = 10 * 24 * hourMs;

export interface DriftInput {
  readonly movedAtMs: number | undefined;
  readonly noneFlewHome?: boolean;
  readonly nowMs: number;
  readonly weight: Bins;
  readonly outside: Series;
  readonly rain?: Series;
  readonly flight: Flight;
  /** Median change of three or more settled hives on scales at the same place, g. */
  readonly settled?: Series;
  readonly steps: readonly WeightStep[];
  readonly events: readonly KnownEvent[];
  readonly framesOfBees?: number;
  /** Other than the usual: for asking what knowing more of a cause would be worth. */
  readonly beliefs?: DriftBeliefs;
  /** Start of each local day since the move, for counting flying days. */
  readonly dayStartsMs: readonly number[];
}

/** What the flying weather since the move comes to. */
export interface Flying {
  readonly movedAtMs: number;
  /** Hours of full flight since the move under each law of flight, to the end of each bin, and the chance of each law. */
  readonly hours: readonly Float64Array[];
  readonly lawChances: readonly number[];
  readonly flown: Flown;
  readonly flightHours: number;
  readonly flyingDays: number;
  /** Share of the daylight in which warmth was guessed. */
  readonly guessed: number;
  readonly byWeather: Estimate;
}
