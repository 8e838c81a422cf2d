/** What the drift's fit says, each with its interval: mass and number gone, how far along, the curve, and the scale's own drift. */
import { ends90, level90, z90 } from '../statistics/intervals.ts';
import type { Sentence } from '../../words/phrase.ts';
import { highEnd, lowEnd } from '../../biology/figure.ts';
import { foragerBodyG } from '../../biology/weight-figures.ts';
import { lawOfLeaving, lawsOfLeaving, modeAt, modes } from './drift-columns.ts';
import { bestOf, type DriftCandidate } from './drift-model.ts';
import { hourMs } from '../series.ts';
import { mixtureBelow, mixtureQuantile, type Component } from '../statistics/mixture.ts';
import type { Estimate, ForagerDrift } from '../types.ts';
import { counted } from '../../words/sentence.ts';

/** Method: a figure’s ends in standard deviations. */
const endsInSd = 3.5;
/** Method: keeps a division finite. */
const tiny = 1e-9;
const quantilesOf90 = [ends90.low, ends90.middle, ends90.high];

/** Flight hours by law of flight. */
export type Flown = readonly number[];

/** Mass gone at an instant by one candidate: M·G and the curve's wandering about it. */
function massBy(c: DriftCandidate, flown: Flown): Component {
  const share = lawOfLeaving(flown[c.law] as number, c.tauH);
  return sumOf(c, (k) => (k === 0 ? share : modeAt(share, k - 1)));
}

/** A weighted sum of a candidate's mass and modes, by `weight` of each. */
function sumOf(c: DriftCandidate, weight: (k: number) => number): Component {
  const n = 1 + modes;
  let mean = 0;
  let variance = 0;
  for (let k = 0; k < n; k++) {
    mean += weight(k) * (c.mean[k] as number);
    for (let l = 0; l < n; l++) variance += weight(k) * weight(l) * (c.covariance[k * n + l] as number);
  }
  return { weight: c.weight, mean, sd: Math.sqrt(Math.max(0, variance)) };
}

function estimateOf(parts: readonly Component[], restsOn: readonly Sentence[], floor?: number): Estimate {
  const [low, value, high] = quantilesOf90.map((p) => mixtureQuantile(parts, p, floor)) as [
    number,
    number,
    number,
  ];
  return { ok: true, value, low, high, level: level90, restsOn };
}

/** Mass gone so far, averaged over the candidates, never under nothing. */
export const massAt = (
  fit: readonly DriftCandidate[],
  flown: Flown,
  restsOn: readonly Sentence[],
): Estimate =>
  estimateOf(
    fit.map((c) => massBy(c, flown)),
    restsOn,
    0,
  );

/** Mass gone so far by the candidate that fits best, g; 0 where there is none. */
export const likeliestMassG = (fit: readonly DriftCandidate[], flown: Flown): number => {
  const best = bestOf(fit);
  return best ? massBy(best, flown).mean : 0;
};

/** Whether so much has left for sure: by the low end of the mass gone so far. */
export const massIsOver = (fit: readonly DriftCandidate[], flown: Flown, massG: number): boolean =>
  mixtureBelow(
    fit.map((c) => massBy(c, flown)),
    massG,
  ) < ends90.low;

/** Chance that all who will leave weigh less than `massG` together, 0..1. */
export const chanceUnder = (fit: readonly DriftCandidate[], massG: number): number =>
  mixtureBelow(
    fit.map((c) => sumOf(c, (k) => (k === 0 ? 1 : 0))),
    massG,
  );

/** Share of those who will leave that has left. */
export function completenessAt(
  fit: readonly DriftCandidate[],
  flown: Flown,
  restsOn: readonly Sentence[],
): Estimate {
  const parts = fit.map((c) => {
    const share = lawOfLeaving(flown[c.law] as number, c.tauH);
    const off = sumOf(c, (k) => (k === 0 ? 0 : modeAt(share, k - 1)));
    // A mass that is hardly known says nothing of the share.
    const massG = Math.max(c.mean[0] as number, 2 * Math.sqrt(c.covariance[0] as number));
    const mean = share + off.mean / massG;
    // How those stay that leave last is a law of its own, and a fit of few nights is too sure of it.
    return { weight: c.weight, mean, sd: Math.hypot(off.sd / massG, lastToLeave * Math.max(0, 1 - mean)) };
  });
  return shareOf(parts, restsOn);
}

/** Method: blurs the steps between the laws that are tried. */
const lawError = 0.02;
/** Method: the last per cent hangs on how many never leave, so ends are told to whole ones, and all but one at most is sure. */
const toldTo = 100;
/** Method: error of the share that is still here, as a part of it: so chosen that the interval holds on losses laid on real scales. */
const lastToLeave = 0.75;

/** The same by the weather alone: flight hours under all laws of leaving that are possible before any weight. */
export function completenessByWeather(
  flown: Flown,
  lawChances: readonly number[],
  restsOn: readonly Sentence[],
): Estimate {
  const laws = lawsOfLeaving(lawChances);
  const total = laws.reduce((sum, { logPrior }) => sum + Math.exp(logPrior), 0);
  const parts = laws.map(({ law, tauH, logPrior }) => ({
    weight: Math.exp(logPrior) / total,
    mean: lawOfLeaving(flown[law] as number, tauH),
    sd: lawError,
  }));
  return shareOf(parts, restsOn);
}

function shareOf(parts: readonly Component[], restsOn: readonly Sentence[]): Estimate {
  const within = (share: number): number => Math.min(1, Math.max(0, share));
  const allBut = 1 - 1 / toldTo;
  // The middle: a mean of what can't pass one lies far under it wherever little is known.
  const [low, value, high] = quantilesOf90.map((p) => within(mixtureQuantile(parts, p))) as [
    number,
    number,
    number,
  ];
  return {
    ok: true,
    value: Math.min(allBut, value),
    low: Math.min(allBut, Math.floor(toldTo * low) / toldTo),
    high: Math.ceil(toldTo * high) / toldTo,
    level: level90,
    restsOn,
  };
}

/** Number from mass, with the spread of a forager's body mass laid over that of the fit. */
export function beesOf(massG: Estimate, restsOn: readonly Sentence[]): Estimate {
  if (!massG.ok) return massG;
  const body = foragerBodyG;
  const bodySd = (highEnd(body) - lowEnd(body)) / endsInSd;
  const value = massG.value / body.value;
  const bodyShare = (z90 * bodySd) / body.value;
  const lowShare = Math.hypot((massG.value - massG.low) / Math.max(massG.value, tiny), bodyShare);
  const highShare = Math.hypot((massG.high - massG.value) / Math.max(massG.value, tiny), bodyShare);
  return {
    ok: true,
    value,
    low: Math.max(0, value * (1 - Math.min(1, lowShare))),
    high: value * (1 + highShare),
    level: level90,
    restsOn: [...restsOn, 'the weight of a forager'],
  };
}

/** Setting: the curve has a point every two hours … */
const curveStepMs = 2 * hourMs;
/** Setting: … and seldomer where that would be more than forty. */
const curvePoints = 40;

/** Instants of the curve's points: whole steps after the move, so that they stay where they are as time goes on. */
export function curveInstants(fromMs: number, untilMs: number): number[] {
  const stepMs = curveStepMs * Math.max(1, Math.ceil((untilMs - fromMs) / (curvePoints * curveStepMs)));
  const count = Math.floor((untilMs - fromMs) / stepMs) + 1;
  return Array.from({ length: count }, (_, i) => fromMs + i * stepMs);
}

/** Mass gone at each instant, given the flight hours flown by then. */
export function curveOf(
  fit: readonly DriftCandidate[],
  instantsMs: readonly number[],
  flownBy: readonly Flown[],
): ForagerDrift['curve'] {
  return instantsMs.flatMap((atMs, i) => {
    const mass = massAt(fit, flownBy[i] as Flown, []);
    return mass.ok ? [{ atMs, massG: mass.value, lowG: mass.low, highG: mass.high }] : [];
  });
}

/** Drift of the load cell, g/K, averaged over the candidates. */
export function scaleTemperatureOf(fit: readonly DriftCandidate[], nights: number): Estimate {
  const parts: Component[] = fit.map((c) => ({
    weight: c.weight,
    mean: c.driftGPerK,
    sd: Math.sqrt(c.driftVar),
  }));
  return estimateOf(parts, [`${counted(nights, 'night')} without flight`]);
}
