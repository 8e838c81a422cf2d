/** What the drift's fit says, each with its interval: mass and number gone, how far along, the curve, and the scale's own drift. */
import type { Sentence } from '../../words/phrase.ts';
import { highEnd, lowEnd } from '../../biology/figure.ts';
import { foragerBodyG } from '../../biology/weight-figures.ts';
import { shareGone, type DriftCandidate } from './drift-model.ts';
import { hourMs } from '../series.ts';
import { mixtureQuantile, type Component } from '../statistics/mixture.ts';
import type { Estimate, ForagerDrift } from '../types.ts';

const driftLevel = 0.9;

/** Mass gone so far: M·G averaged over the candidates, never under nothing. */
export function massAt(
  fit: readonly DriftCandidate[],
  flown: number,
  restsOn: readonly Sentence[],
): Estimate {
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

export function completenessAt(
  fit: readonly DriftCandidate[],
  flown: number,
  restsOn: readonly Sentence[],
): Estimate {
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
export function beesOf(massG: Estimate, restsOn: readonly Sentence[]): Estimate {
  if (!massG.ok) return massG;
  const body = foragerBodyG;
  const bodySd = (highEnd(body) - lowEnd(body)) / 3.5;
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
    restsOn: [...restsOn, 'the weight of a forager'],
  };
}

/** The curve has a point every two hours, and seldomer where that would be more than forty. */
const curveStepMs = 2 * hourMs;
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
  flownH: readonly number[],
): ForagerDrift['curve'] {
  return instantsMs.flatMap((atMs, i) => {
    const mass = massAt(fit, flownH[i] as number, []);
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
  const [low, value, high] = [0.05, 0.5, 0.95].map((p) => mixtureQuantile(parts, p)) as [
    number,
    number,
    number,
  ];
  return { ok: true, value, low, high, level: driftLevel, restsOn: [`${String(nights)} nights`] };
}
