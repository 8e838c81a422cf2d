/** Forager drift: how many have flown home from a moved split, how far along it is, and how sure that is. */
import { nucFramesUsually } from '../../biology/assumed-figures.ts';
import { beesPerFrame } from '../../biology/thermal-figures.ts';
import { fingerprint, remember, type AnalysisCache } from '../analysis-cache.ts';
import { binMs, type Bins } from '../bins.ts';
import { driftRows, leavingMs, withoutSteps, type DriftData } from './drift-rows.ts';
import { driftLagsMs, fitDrift, type DriftBeliefs, type DriftCandidate } from './drift-model.ts';
import {
  beesOf,
  completenessAt,
  curveInstants,
  curveOf,
  massAt,
  scaleTemperatureOf,
} from './drift-summary.ts';
import { flightHoursSince, hoursAt, type Flight } from './flight.ts';
import { between, hourMs } from '../series.ts';
import type { Estimate, ForagerDrift, KnownEvent, Series, WeightStep } from '../types.ts';

/** The fit looks no further than this from the move: by then they have gone, and other things weigh more. */
export const driftWindowMs = 10 * 24 * hourMs;
/**
 * Rows are made of half hours and hours that are over, and put to the fit an hour at a time while the foragers leave fastest,
 * then six hours and from the fifth day on twelve at a time: of so many days those tell next to nothing new.
 */
const openMs = hourMs;
const openLaterMs = 6 * hourMs;
const openAtLastMs = 12 * hourMs;
const openAtLastFromMs = 96 * hourMs;
/** Less flight than this and nobody can have flown home. */
const noFlightHours = 0.5;
/**
 * Expected share that has left from which the foragers count as gone. Nearer to all than the nineteen in twenty that a
 * keeper asks for, since too early a *gone* costs a visit among old bees and a late one a day.
 */
const goneShare = 0.98;
/** The keeper's nineteen in twenty: from here on nobody need wait for the rest. */
const nearlyGoneShare = 0.95;
/** A day with this much full flight is a flying day. */
const flyingDayHours = 2;

export interface DriftInput {
  readonly movedAtMs: number | undefined;
  readonly nowMs: number;
  readonly weight: Bins;
  readonly outside: Bins;
  readonly rain?: Series;
  readonly flight: Flight;
  readonly steps: readonly WeightStep[];
  readonly events: readonly KnownEvent[];
  readonly framesOfBees?: number;
  /** Other than the usual: for asking what knowing more of a cause would be worth. */
  readonly beliefs?: DriftBeliefs;
  /** Start of each local day since the move, for counting flying days. */
  readonly dayStartsMs: readonly number[];
}

const declined = (why: string): Estimate => ({ ok: false, why });

/** The drift, and what the same fit says about the scale's own drift with temperature. */
export interface DriftAndScale {
  readonly drift: ForagerDrift;
  readonly scaleTemperature: Estimate;
}

export function forageDriftOf(input: DriftInput, cache?: AnalysisCache): DriftAndScale {
  const { movedAtMs, nowMs } = input;
  if (movedAtMs === undefined || movedAtMs > nowMs) {
    return undrifted(
      'cannot-tell',
      'no move is logged, so there is no moment from which foragers could drift',
      0,
      0,
    );
  }
  const hours = flightHoursSince(input.flight, movedAtMs);
  const flown = hoursAt(input.flight, hours, nowMs);
  const flyingDays = countFlyingDays(input, hours);
  const guessed = guessedShare(input.flight, movedAtMs, nowMs);
  if (flown < noFlightHours) {
    return undrifted(
      'no-flying-weather',
      'there has been no flying weather since the move',
      flown,
      flyingDays,
    );
  }
  const data = rowsOf(input, movedAtMs, hours, cache);
  if (data.nights === 0) {
    return undrifted('cannot-tell', 'no quiet night on the scale since the move yet', flown, flyingDays);
  }
  const fit = remember(cache, 'drift', [rowsKey(data), input.framesOfBees], () =>
    fitDrift(data, priorBees(input.framesOfBees), input.beliefs),
  );
  if (fit.length === 0) {
    return undrifted('cannot-tell', 'the scale has too few quiet readings since the move', flown, flyingDays);
  }
  return {
    drift: told(input, data, fit, hours, flown, flyingDays, guessed, cache),
    scaleTemperature:
      data.outsideC.size === 0
        ? declined('no outside temperature to compare the scale with')
        : remember(cache, 'drift-scale', [fit], () => scaleTemperatureOf(fit, data.nights)),
  };
}

/** Rows of the fit. The newest hour is left open, so that they are the same until it is over. */
function rowsOf(
  input: DriftInput,
  movedAtMs: number,
  flown: Float64Array,
  cache: AnalysisCache | undefined,
): DriftData {
  const { flight } = input;
  const closedMs = Math.min(input.nowMs, movedAtMs + driftWindowMs);
  const whole = (atMs: number, stepMs: number): number => Math.floor(atMs / stepMs) * stepMs;
  // Never back to an earlier end, where the steps become longer.
  const untilMs = Math.max(
    whole(Math.min(closedMs, movedAtMs + leavingMs), openMs),
    whole(Math.min(closedMs, movedAtMs + openAtLastFromMs), openLaterMs),
    whole(closedMs, openAtLastMs),
  );
  const weight = between(input.weight, -Infinity, untilMs);
  const outside = between(input.outside, -Infinity, untilMs);
  const rain = input.rain && between(input.rain, flight.fromMs - 2 * hourMs, untilMs);
  const steps = input.steps.filter((step) => step.atMs < untilMs);
  const disturbedAtMs = [...steps, ...input.events].map((e) => e.atMs).filter((at) => at < untilMs);
  const dayStartsMs = input.dayStartsMs.filter((start) => start < untilMs);
  const flownBins = Math.max(0, Math.round((untilMs - flight.fromMs) / binMs));
  const read = [
    ...[weight, outside, rain].map((series) => (series ? fingerprint(series) : '-')),
    fingerprint({ atMs: new Float64Array(0), value: flight.activity.subarray(0, flownBins) }),
    [disturbedAtMs, steps.map((step) => step.sizeG), dayStartsMs].map((list) => list.join()).join(';'),
  ].join(' ');
  return remember(cache, 'drift-rows', [movedAtMs, untilMs, read], () =>
    driftRows({
      movedAtMs,
      untilMs,
      dayStartsMs,
      weight: withoutSteps(weight, steps, movedAtMs),
      outside,
      ...(rain ? { rain } : {}),
      flight,
      flownHours: flown,
      disturbedAtMs,
      lagsMs: driftLagsMs,
    }),
  );
}

/** Tells one set of rows from another: their number and a sum over all that the fit reads. */
function rowsKey({ rows, warmthKh, outsideC }: DriftData): string {
  let sum = 0;
  const lags = [...outsideC.values()];
  rows.forEach((row, i) => {
    const flown = row.flownByDay.reduce((total, h, day) => total + (day + 2) * h, 0);
    const outside = lags.reduce((total, lag) => total + (lag[i] || 0), 0);
    const about = row.noiseVar + row.wet + row.sunDeg + row.activity + (row.quiet ? 1 : 0);
    sum += (i + 1) * (row.weightG + row.hours + flown + outside + about + (warmthKh[i] ?? 0));
  });
  return `${String(rows.length)} ${String(sum)}`;
}

function told(
  input: DriftInput,
  data: DriftData,
  fit: readonly DriftCandidate[],
  hours: Float64Array,
  flown: number,
  flyingDays: number,
  guessed: number,
  cache: AnalysisCache | undefined,
): ForagerDrift {
  const restsOn = [
    `${String(data.nights)} night${data.nights === 1 ? '' : 's'} on the scale since the move`,
    `${flown.toFixed(1)} hours of full flight${guessed > 0.2 ? ', partly guessed: the outside temperature is missing' : ''}`,
    ...(data.outsideC.size === 0 ? ['no outside temperature: the scale could not be corrected for it'] : []),
  ];
  const massG = massAt(fit, flown, restsOn);
  const completeness = completenessAt(fit, flown, restsOn);
  const state = stateOf(completeness.ok ? completeness.value : 0, massG, guessed);
  const from = input.movedAtMs as number;
  const instants = curveInstants(from, Math.min(input.nowMs, from + driftWindowMs));
  const flownBy = instants.map((at) => hoursAt(input.flight, hours, at));
  const bees = beesOf(massG, restsOn);
  return withCurve(
    { ...state, massG, bees, completeness, flightHours: flown, flyingDays, sinceMs: from },
    curveLater(fit, instants, flownBy, cache),
  );
}

type Curve = ForagerDrift['curve'];

/** The curve is dear, and for drawing alone: worked out when somebody draws it. */
const withCurve = (drift: Omit<ForagerDrift, 'curve'>, curve: () => Curve): ForagerDrift => ({
  ...drift,
  get curve() {
    return curve();
  },
});

/** Apart from what calls it, so that it holds on to nothing but what it needs. */
function curveLater(
  fit: readonly DriftCandidate[],
  instants: readonly number[],
  flownBy: readonly number[],
  cache: AnalysisCache | undefined,
): () => Curve {
  return () =>
    remember(cache, 'drift-curve', [fit, instants[0], ...flownBy], () => curveOf(fit, instants, flownBy));
}

function stateOf(
  completeness: number,
  massG: Estimate,
  guessed: number,
): Pick<ForagerDrift, 'state' | 'why'> {
  if (guessed > 0.5) {
    return {
      state: 'cannot-tell',
      why: 'the outside temperature is missing for most of the time: flying weather is not known',
    };
  }
  if (massG.ok && massG.low < 0.15 * massG.high) {
    return { state: 'cannot-tell', why: 'the loss is no larger than what the scale could have drifted' };
  }
  const percent = String(Math.floor(100 * completeness));
  if (completeness >= goneShare) {
    return { state: 'gone', why: `about ${percent} % of those who will leave have left` };
  }
  if (completeness >= nearlyGoneShare) {
    return {
      state: 'nearly-gone',
      why: `about ${percent} % of those who will leave have left; another flying day makes sure of it`,
    };
  }
  return {
    state: 'leaving',
    why: `about ${percent} % of those who will leave have left; more flying weather is needed`,
  };
}

function countFlyingDays(input: DriftInput, hours: Float64Array): number {
  const starts = input.dayStartsMs;
  return starts.filter((start, i) => {
    const end = Math.min(input.nowMs, starts[i + 1] ?? start + 24 * hourMs);
    return hoursAt(input.flight, hours, end) - hoursAt(input.flight, hours, start) >= flyingDayHours;
  }).length;
}

function guessedShare(flight: Flight, fromMs: number, toMs: number): number {
  let light = 0;
  let guessed = 0;
  for (let i = 0; i < flight.activity.length; i++) {
    const at = flight.fromMs + i * binMs;
    if (at < fromMs || at > toMs || (flight.sunDeg[i] as number) < 5) continue;
    light += 1;
    guessed += flight.guessed[i] as number;
  }
  return light === 0 ? 0 : guessed / light;
}

/** Two to three frames of bees are usual (common practice); the keeper's own count is better. */
function priorBees(framesOfBees: number | undefined): { bees: number; beesSd: number } {
  const frames = framesOfBees ?? nucFramesUsually.value;
  return {
    bees: frames * beesPerFrame.value,
    beesSd: frames * beesPerFrame.value * (framesOfBees ? 0.15 : 0.35),
  };
}

const undrifted = (...args: Parameters<typeof nothingKnown>): DriftAndScale => ({
  drift: nothingKnown(...args),
  scaleTemperature: declined('the scale is fitted together with the forager drift, which is not known'),
});

function nothingKnown(
  state: ForagerDrift['state'],
  why: string,
  flightHours: number,
  flyingDays: number,
): ForagerDrift {
  return {
    state,
    why,
    massG: declined(why),
    bees: declined(why),
    completeness: declined(why),
    flightHours,
    flyingDays,
    sinceMs: null,
    curve: [],
  };
}
