/**
 * Forager drift: how many have flown home from a moved split, how far along it is, and how sure that is.
 *
 * To be read after `drift-input.ts`, `flight.ts` and `drift-rows.ts` (what goes in), `drift-columns.ts`, `drift-noise.ts`
 * and `drift-model.ts` (the fit), `drift-summary.ts` (what it says).
 */
import {
  flyingDayHours,
  noFlightHours,
  nobodyLeftChance,
  foragersGoneShare,
  nearlyGoneShare,
} from '../../biology/figures.ts';
import { withLater } from '../../lazily.ts';
import { leastLeavingShare } from '../../biology/drift-figures.ts';
import { foragerBodyG } from '../../biology/weight-figures.ts';
import { memoize, type AnalysisCache } from '../analysis-cache.ts';
import { binMs } from '../bins.ts';
import { priorMass } from './drift-beliefs.ts';
import { lossHidden, mostGained } from './drift-hidden.ts';
import { fitDrift, type DriftCandidate } from './drift-model.ts';
import { driftWindowMs, type DriftInput, type Flying } from './drift-input.ts';
import { rowsOf, type AboutRows } from './kept-rows.ts';
import {
  beesOf,
  chanceUnder,
  completenessAt,
  completenessByWeather,
  likeliestMassG,
  curveInstants,
  curveOf,
  massAt,
  massIsOver,
  scaleTemperatureOf,
  type Flown,
} from './drift-summary.ts';
import { flightHoursSince, hoursAt, lawsOfGuessedWarmth, lawsOfWarmth, type Flight } from './flight.ts';
import { dayOf, percent, say, type Sentence } from '../../words/phrase.ts';
import { hourMs } from '../series.ts';
import type { Estimate, ForagerDrift, MassDeparture } from '../types.ts';
import { counted } from '../../words/sentence.ts';

/** Method: a guessed part of the flight that is told. */
const guessedLittle = 0.2;
/** Method: under a lower sun no warmth is looked for. */
const lowSunDeg = 5;
/** Method: how far the law of leaving is trusted: by hours of flight where they are measured, and where warmth is guessed. */
const curveWeight = { measured: 35, guessed: 10 };

/** Method: whatever is likeliest, nothing is called gone of which, by the low end, less may have left. */
const surelyGoneShare = 0.8;

const declined = (why: Sentence): Estimate => ({ ok: false, why });

/** The drift, and what the same fit says about the scale's own drift with temperature. */
export interface DriftAndScale {
  readonly drift: ForagerDrift;
  readonly scaleTemperature: Estimate;
}

export function forageDriftOf(input: DriftInput, cache?: AnalysisCache): DriftAndScale {
  const told = driftFrom(input, cache);
  return input.noneFlewHome ? { ...told, drift: stayed(told.drift) } : told;
}

/** What such a nuc loses, old bees out in the field say, is no loss of foragers. */
function stayed({ flightHours, flyingDays }: ForagerDrift): ForagerDrift {
  const why = 'it was moved too far for them to fly home';
  return {
    ...unweighed('cannot-tell', why, declined(why), flightHours, flyingDays, null).drift,
    stay: true,
  };
}

function driftFrom(input: DriftInput, cache?: AnalysisCache): DriftAndScale {
  const { movedAtMs, nowMs } = input;
  if (movedAtMs === undefined || movedAtMs > nowMs) {
    const why = 'no move is logged';
    return unweighed('cannot-tell', why, declined(why), 0, 0, null);
  }
  const flying = flyingSince(input, movedAtMs);
  const noFlight = flying.flightHours < noFlightHours.value;
  if (noFlight && Math.max(...flying.flown) < noFlightHours.value) return noFlyingWeather(flying);
  if (isHeldIn(input, flying))
    return byWeatherAlone(flying, 'bad weather held them in beyond the days in which they are weighed');
  const data = rowsOf(input, flying, cache);
  if (noFlight && (data.count === 0 || data.nights === 0)) return noFlyingWeather(flying);
  if (data.count === 0) return byWeatherAlone(flying, 'no weight was read in the days after the move');
  if (data.nights === 0) return byWeatherAlone(flying, 'the scale has not read a full night since the move');
  const fit = memoize(cache, 'drift', [data.key, input.framesOfBees], () =>
    fitDrift(
      data.rows(),
      {
        ...priorMass(input.framesOfBees),
        curveWeight: flying.guessed > 0.5 ? curveWeight.guessed : curveWeight.measured,
      },
      input.beliefs,
    ),
  );
  if (fit.candidates.length === 0)
    return byWeatherAlone(flying, 'the scale has sent too few readings since the move');
  // In weather in which none should fly some do, and the scale may show it.
  const leastG = leastLeavingG(input.framesOfBees);
  if (noFlight && !massIsOver(fit.candidates, flying.flown, leastG)) return noFlyingWeather(flying);
  const goneG = likeliestMassG(fit.candidates, flying.flown);
  const hidden = lossHidden({ untilMs: nowMs, goneG, ...input, movedAtMs }, fit, () =>
    memoize(cache, 'drift-gained', [fit], () => mostGained(data.rows(), fit)),
  );
  const scaleTemperature = !data.thermometer
    ? declined('no outside temperature to compare the scale with')
    : memoize(cache, 'drift-scale', [fit], () => scaleTemperatureOf(fit.candidates, data.nights));
  if (hidden === null)
    return { drift: weighed(input, data, fit.candidates, flying, cache), scaleTemperature };
  return {
    ...byWeatherAlone(flying, hidden.why),
    scaleTemperature: hidden.dries ? declined(driesByNight) : scaleTemperature,
  };
}

/** Method: a scale that saw fewer than half of them leave in its days tells nothing of the others. */
const halfSeen = 0.5;

/** Whether most had no weather to leave in while the scale is looked at, and have had it since. */
function isHeldIn(
  { flight, nowMs }: DriftInput,
  { movedAtMs, hours, lawChances, byWeather }: Flying,
): boolean {
  const endMs = movedAtMs + driftWindowMs;
  if (!byWeather.ok || nowMs <= endMs) return false;
  const then = hours.map((of) => hoursAt(flight, of, endMs));
  const share = completenessByWeather(then, lawChances, []);
  return share.ok && share.value < halfSeen;
}

const driesByNight = 'feed or nectar that dries by night looks like a scale that follows the temperature';

const noFlyingWeather = ({ byWeather, flightHours, flyingDays }: Flying): DriftAndScale =>
  unweighed(
    'no-flying-weather',
    'there has been no flying weather since the move',
    byWeather,
    flightHours,
    flyingDays,
    null,
  );

/** Fewer foragers than a scale can tell from none, g. */
const leastLeavingG = (framesOfBees: number | undefined): number =>
  leastLeavingShare.value * priorMass(framesOfBees).bees * foragerBodyG.value;

function flyingSince(input: DriftInput, movedAtMs: number): Flying {
  const { flight, nowMs } = input;
  const guessed = guessedShare(flight, movedAtMs, Math.min(nowMs, movedAtMs + driftWindowMs));
  const laws =
    guessed > 0.5 ? lawsOfGuessedWarmth(flight, input.dayStartsMs) : lawsOfWarmth(flight, input.outside);
  const hours = laws.activity.map((activity) => flightHoursSince(flight, movedAtMs, activity));
  const usual = hours[0] as Float64Array;
  const flown = hours.map((of) => hoursAt(flight, of, nowMs));
  return {
    movedAtMs,
    hours,
    lawChances: laws.chances,
    flown,
    flightHours: flown[0] as number,
    flyingDays: countFlyingDays(input, usual),
    guessed,
    byWeather:
      guessed > 0.5
        ? declined('without an outside temperature the flying weather is not known')
        : completenessByWeather(flown, laws.chances, ['the flying weather alone']),
  };
}

type ByWeather = Pick<Flying, 'byWeather' | 'flightHours' | 'flyingDays' | 'movedAtMs'>;

const noStrangers = 'no strange bees coming in, which would hide as many that left';

/** What scale and weather say together. */
function weighed(
  input: DriftInput,
  data: AboutRows,
  fit: readonly DriftCandidate[],
  flying: Flying,
  cache: AnalysisCache | undefined,
): ForagerDrift {
  const { movedAtMs: from, flown, flightHours, flyingDays, guessed, byWeather } = flying;
  const restsOn = [
    `${counted(data.nights, 'night')} on the scale since the move`,
    guessed > 0.5
      ? 'the nights alone: without an outside temperature the flying weather is guessed'
      : `${counted(Math.round(flightHours), 'hour')} of full flight${guessed > guessedLittle ? ', partly guessed: the outside temperature is missing' : ''}`,
    ...(!data.thermometer ? ['no outside temperature: the scale could not be corrected for it'] : []),
    ...(data.settled ? ['the settled hives beside it, whose usual change is taken off'] : []),
  ];
  // Coming and going are one weight, and no fit tells them apart.
  const told = massAt(fit, flown, [...restsOn, noStrangers]);
  const completeness = completenessAt(fit, flown, restsOn);
  const leastG = leastLeavingG(input.framesOfBees);
  const perhapsNone = chanceUnder(fit, leastG) > nobodyLeftChance.value;
  const massG = perhapsNone && told.ok ? { ...told, low: 0 } : told;
  const state: Pick<ForagerDrift, 'state' | 'why'> = perhapsNone
    ? { state: 'cannot-tell', why: perhapsNoneWhy(massG, leastG) }
    : stateBy(completeness, guessed > 0.5);
  const instants = curveInstants(from, Math.min(input.nowMs, from + driftWindowMs));
  const flownBy = instants.map((at) => flying.hours.map((of) => hoursAt(input.flight, of, at)));
  const bees = beesOf(massG, restsOn);
  return withCurve(
    { massG, bees, completeness, byWeather, flightHours, flyingDays, sinceMs: from, ...state },
    curveLater(fit, instants, flownBy, cache),
  );
}

/** Method: a mass so many times the least that is told is more than hardly anything. */
const farOver = 5;

const perhapsNoneWhy = (massG: Estimate, leastG: number): Sentence =>
  massG.ok && massG.value > farOver * leastG
    ? 'by weight some may have left or none; another dry night tells more'
    : 'hardly any weight has left; it had few foragers, or they are still in';

/**
 * The same drift where bees left together while it lasted: neither what they weighed nor what had flown home by then can be
 * told from the other, so the weather alone speaks. `departures`: those that bees did not come home from.
 */
export function withoutThoseThatLeft(
  drift: ForagerDrift,
  departures: readonly Pick<MassDeparture, 'fromMs'>[],
): ForagerDrift {
  const sinceMs = drift.sinceMs ?? Infinity;
  const left = departures.find(({ fromMs }) => fromMs > sinceMs && fromMs < sinceMs + driftWindowMs);
  if (!left) return drift;
  const why = say`bees left together on ${dayOf(left.fromMs)}, which hides what flew home`;
  return byWeatherAlone({ ...drift, movedAtMs: sinceMs }, why).drift;
}

/** What the weather says where the scale can't; `why` it can't. */
function byWeatherAlone(flying: ByWeather, why: Sentence): DriftAndScale {
  const { byWeather, flightHours, flyingDays, movedAtMs } = flying;
  const { state, why: told } = byWeather.ok
    ? stateBy(byWeather)
    : { state: 'cannot-tell' as const, why: say`${why}, and there is no outside temperature` };
  const said = byWeather.ok ? say`${told}. Only the flying weather says so: ${why}` : told;
  return unweighed(state, said, byWeather, flightHours, flyingDays, movedAtMs, why);
}

function stateBy(completeness: Estimate, nightsAlone = false): Pick<ForagerDrift, 'state' | 'why'> {
  const { value: share, low } = completeness.ok ? completeness : { value: 0, low: 0 };
  const gone = say`about ${percent(Math.floor(100 * share) / 100)} of those who will leave have left`;
  const about = nightsAlone
    ? say`${gone}, by the nights alone; without an outside temperature a cold spell looks the same`
    : gone;
  if (share >= foragersGoneShare.value && low >= surelyGoneShare) return { state: 'gone', why: about };
  return share >= nearlyGoneShare.value
    ? { state: 'nearly-gone', why: say`${about}; another flying day makes sure of it` }
    : { state: 'leaving', why: say`${about}; more flying weather is needed` };
}

type Curve = ForagerDrift['curve'];

/** The curve is dear, and for drawing alone: worked out when somebody draws it. */
const withCurve = (drift: Omit<ForagerDrift, 'curve'>, curve: () => Curve): ForagerDrift =>
  withLater(drift, { curve });

/** Apart from what calls it, so that it holds on to nothing but what it needs. */
function curveLater(
  fit: readonly DriftCandidate[],
  instants: readonly number[],
  flownBy: readonly Flown[],
  cache: AnalysisCache | undefined,
): () => Curve {
  return () =>
    memoize(cache, 'drift-curve', [fit, instants[0], ...flownBy.flat()], () =>
      curveOf(fit, instants, flownBy),
    );
}

function countFlyingDays(input: DriftInput, hours: Float64Array): number {
  const starts = input.dayStartsMs;
  return starts.filter((start, i) => {
    const end = Math.min(input.nowMs, starts[i + 1] ?? start + 24 * hourMs);
    return hoursAt(input.flight, hours, end) - hoursAt(input.flight, hours, start) >= flyingDayHours.value;
  }).length;
}

function guessedShare(flight: Flight, fromMs: number, toMs: number): number {
  let light = 0;
  let guessed = 0;
  for (let i = 0; i < flight.activity.length; i++) {
    const at = flight.fromMs + i * binMs;
    if (at < fromMs || at > toMs || (flight.sunDeg[i] as number) < lowSunDeg) continue;
    light += 1;
    guessed += flight.guessed[i] as number;
  }
  return light === 0 ? 0 : guessed / light;
}

function unweighed(
  state: ForagerDrift['state'],
  why: Sentence,
  byWeather: Estimate,
  flightHours: number,
  flyingDays: number,
  sinceMs: number | null,
  hidden: Sentence = why,
): DriftAndScale {
  const unknown = declined(hidden);
  return {
    drift: {
      state,
      why,
      massG: unknown,
      bees: unknown,
      completeness: sinceMs === null ? unknown : byWeather,
      byWeather,
      flightHours,
      flyingDays,
      sinceMs,
      curve: [],
    },
    scaleTemperature: declined('it is worked out together with the foragers that leave, which can’t be told'),
  };
}
