/** Forager drift: how many have flown home from a moved split, how far along it is, and how sure that is. */
import { beesPerFrame } from '../biology/thermal-figures.ts';
import { foragerBodyG } from '../biology/weight-figures.ts';
import { remember, type AnalysisCache } from './analysis-cache.ts';
import { binMs, type Bins } from './bins.ts';
import { driftRows, withoutSteps, type DriftData } from './drift-rows.ts';
import { driftLagsMs, fitDrift, shareGone, type DriftCandidate } from './drift-model.ts';
import { flightHoursSince, hoursAt, type Flight } from './flight.ts';
import { hourMs } from './series.ts';
import { mixtureQuantile, type Component } from './statistics/mixture.ts';
import type { Estimate, ForagerDrift, KnownEvent, Series, WeightStep } from './types.ts';

const driftLevel = 0.9;
/** The fit looks no further than this from the move: by then they have gone, and other things weigh more. */
export const driftWindowMs = 10 * 24 * hourMs;
/** Less flight than this and nobody can have flown home. */
const noFlightHours = 0.5;
/**
 * Expected share that has left from which the foragers count as gone. Nearer to all than the nineteen in twenty that a
 * keeper asks for, since too early a *gone* costs a visit among old bees and a late one a day.
 */
const goneShare = 0.975;
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
  const window = {
    movedAtMs,
    untilMs: Math.min(nowMs, movedAtMs + driftWindowMs),
    dayStartsMs: input.dayStartsMs,
  };
  const weight = withoutSteps(input.weight, input.steps, movedAtMs);
  const disturbed = [...input.steps.map((s) => s.atMs), ...input.events.map((e) => e.atMs)];
  const data = driftRows(
    window,
    weight,
    input.outside,
    input.rain,
    input.flight,
    hours,
    disturbed,
    driftLagsMs,
  );
  if (data.nights === 0) {
    return undrifted('cannot-tell', 'no quiet night on the scale since the move yet', flown, flyingDays);
  }
  const fit = remember(cache, 'drift', [rowsKey(data), input.framesOfBees], () =>
    fitDrift(data, priorBees(input.framesOfBees)),
  );
  if (fit.length === 0) {
    return undrifted('cannot-tell', 'the scale has too few quiet readings since the move', flown, flyingDays);
  }
  const scaleTemperature = scaleTemperatureOf(data, fit);
  return { drift: told(input, data, fit, hours, flown, flyingDays, guessed), scaleTemperature };
}

/** Tells one set of rows from another: their number and sums of what the fit reads. */
function rowsKey({ rows, warmthKh, outsideC }: DriftData): string {
  let sum = 0;
  rows.forEach((row, i) => {
    const outside = [...outsideC.values()].reduce((total, lag) => total + (lag[i] ?? 0), 0);
    sum += (i + 1) * (row.weightG + row.hours + row.flownH + row.wet + outside + (warmthKh[i] ?? 0));
  });
  return `${String(rows.length)} ${String(sum)}`;
}

/** Drift of the load cell, g/K, averaged over the candidates. */
function scaleTemperatureOf(data: DriftData, fit: readonly DriftCandidate[]): Estimate {
  if (data.outsideC.size === 0) return declined('no outside temperature to compare the scale with');
  const parts: Component[] = fit.map((c) => ({
    weight: c.weight,
    mean: c.driftGPerK,
    sd: Math.sqrt(c.driftVar),
  }));
  const [low, value, high] = [0.05, 0.5, 0.95].map((p) => mixtureQuantile(parts, p)) as [
    number,
    number,
    number,
  ];
  return { ok: true, value, low, high, level: driftLevel, restsOn: [`${String(data.nights)} nights`] };
}

function told(
  input: DriftInput,
  data: DriftData,
  fit: readonly DriftCandidate[],
  hours: Float64Array,
  flown: number,
  flyingDays: number,
  guessed: number,
): ForagerDrift {
  const restsOn = [
    `${String(data.nights)} night${data.nights === 1 ? '' : 's'} on the scale since the move`,
    `${flown.toFixed(1)} hours of full flight${guessed > 0.2 ? ', partly guessed: the outside temperature is missing' : ''}`,
    ...(data.outsideC.size === 0 ? ['no outside temperature: the scale could not be corrected for it'] : []),
  ];
  const massG = massAt(fit, flown, restsOn);
  const completeness = completenessAt(fit, flown, restsOn);
  const state = stateOf(completeness.ok ? completeness.value : 0, massG, guessed);
  const curve = curveOf(input, fit, hours);
  const bees = beesOf(massG, restsOn);
  return { ...state, massG, bees, completeness, flightHours: flown, flyingDays, curve };
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
  return {
    state: 'leaving',
    why: `about ${percent} % of those who will leave have left; more flying weather is needed`,
  };
}

/** Mass gone so far: M·G averaged over the candidates, never under nothing. */
function massAt(fit: readonly DriftCandidate[], flown: number, restsOn: readonly string[]): Estimate {
  const parts: Component[] = fit.map((c) => {
    const share = shareGone(flown, c.tauH);
    return { weight: c.weight, mean: c.massG * share, sd: Math.sqrt(c.massVar) * share };
  });
  const [low, value, high] = [0.05, 0.5, 0.95].map((p) => mixtureQuantile(parts, p, 0)) as [
    number,
    number,
    number,
  ];
  return { ok: true, value, low, high, level: driftLevel, restsOn };
}

function completenessAt(fit: readonly DriftCandidate[], flown: number, restsOn: readonly string[]): Estimate {
  const sorted = fit
    .map((c) => ({ share: shareGone(flown, c.tauH), weight: c.weight }))
    .sort((a, b) => a.share - b.share);
  const at = (p: number): number => {
    let sum = 0;
    for (const c of sorted) {
      sum += c.weight;
      if (sum >= p) return c.share;
    }
    return sorted.at(-1)?.share ?? 0;
  };
  const value = fit.reduce((sum, c) => sum + c.weight * shareGone(flown, c.tauH), 0);
  return {
    ok: true,
    value,
    low: Math.min(value, at(0.05)),
    high: Math.max(value, at(0.95)),
    level: driftLevel,
    restsOn,
  };
}

/** Number from mass, with the spread of a forager's body mass laid over that of the fit. */
function beesOf(massG: Estimate, restsOn: readonly string[]): Estimate {
  if (!massG.ok) return massG;
  const body = foragerBodyG;
  const bodySd = ((body.high ?? body.value) - (body.low ?? body.value)) / 3.5;
  const value = massG.value / body.value;
  const bodyShare = (1.645 * bodySd) / body.value;
  const lowShare = Math.hypot((massG.value - massG.low) / Math.max(massG.value, 1e-9), bodyShare);
  const highShare = Math.hypot((massG.high - massG.value) / Math.max(massG.value, 1e-9), bodyShare);
  return {
    ok: true,
    value,
    low: Math.max(0, value * (1 - Math.min(1, lowShare))),
    high: value * (1 + highShare),
    level: driftLevel,
    restsOn: [...restsOn, `a forager weighs ${String(body.low)}-${String(body.high)} g`],
  };
}

function curveOf(
  input: DriftInput,
  fit: readonly DriftCandidate[],
  hours: Float64Array,
): ForagerDrift['curve'] {
  const from = input.movedAtMs as number;
  const until = Math.min(input.nowMs, from + driftWindowMs);
  const points: ForagerDrift['curve'][number][] = [];
  const stepMs = Math.max(2 * hourMs, (until - from) / 40);
  for (let at = from; at <= until; at += stepMs) {
    const mass = massAt(fit, hoursAt(input.flight, hours, at), []);
    if (mass.ok) points.push({ atMs: at, massG: mass.value, lowG: mass.low, highG: mass.high });
  }
  return points;
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
  const frames = framesOfBees ?? 3;
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
    curve: [],
  };
}
