/** Coupling of the brood nest to the outside: how far the one follows the other. */
import { kelvin, say } from '../../words/phrase.ts';
import { fingerprint, remember, type AnalysisCache } from '../analysis-cache.ts';
import { lagged, valueAt } from '../bins.ts';
import { between, hourMs } from '../series.ts';
import { median, quantiles, robustLine } from '../statistics/robust.ts';
import type { Estimate, Series } from '../types.ts';

const z90 = 1.645;
/** Brood temperature follows itself: readings this far apart count as separate. */
const independentMs = 3 * hourMs;
const leastBins = 36;
const lagsMs = [0, 1, 2, 3, 4, 6].map((hours) => hours * hourMs);
const spanMs = 72 * hourMs;
/** Two days before the first hour settle the slowest lag. */
const readMs = spanMs + 48 * hourMs;

/**
 * Slope of brood on outside temperature over 72 whole hours up to three hours ago at most, at the lag that explains most: 0 is regulated, 1 is
 * not at all. Robust line on hourly values; its error is widened for hours that go together.
 */
export function couplingUpTo(brood: Series, outside: Series, nowMs: number, cache?: AnalysisCache): Estimate {
  // Hours within three tell next to nothing new.
  const wholeMs = Math.floor(nowMs / independentMs) * independentMs;
  const read = [brood, outside].map((bins) => between(bins, wholeMs - readMs, wholeMs));
  const [broodC, outsideC] = read as [Series, Series];
  return remember(cache, 'coupling', [wholeMs, ...read.map(fingerprint)], () =>
    coupling(broodC, outsideC, wholeMs),
  );
}

function coupling(brood: Series, outside: Series, nowMs: number): Estimate {
  const fromMs = nowMs - spanMs;
  if (outside.atMs.length < leastBins) return { ok: false, why: 'no outside temperature to compare with' };
  const hourly: { at: number; value: number }[] = [];
  for (let at = fromMs; at <= nowMs; at += hourMs) {
    const value = valueAt(brood, at, hourMs / 2);
    if (!Number.isNaN(value)) hourly.push({ at, value });
  }
  let best: { slope: number; se: number; left: number; n: number } | null = null;
  for (const lagMs of lagsMs) {
    const follow = lagged(outside, lagMs);
    const pairs = hourly.flatMap(({ at, value }) => {
      const x = valueAt(follow, at, hourMs);
      return Number.isNaN(x) ? [] : [{ x, y: value }];
    });
    if (pairs.length < 24) continue;
    const x = pairs.map((p) => p.x);
    const [p10, p90] = quantiles(x, 0.1, 0.9) as [number, number];
    if (p90 - p10 < 3) continue;
    const line = robustLine(
      x,
      pairs.map((p) => p.y),
    );
    if (!line) continue;
    const left = median(pairs.map((p) => Math.abs(p.y - line.intercept - line.slope * p.x)));
    if (!best || left < best.left) best = { slope: line.slope, se: line.slopeSe, left, n: pairs.length };
  }
  if (!best)
    return {
      ok: false,
      why: say`too few hours of both temperatures, or the outside did not change by ${kelvin(3)}`,
    };
  const half = z90 * Math.max(0.005, best.se * Math.sqrt(independentMs / hourMs));
  return {
    ok: true,
    value: best.slope,
    low: best.slope - half,
    high: best.slope + half,
    level: 0.9,
    restsOn: [`${String(best.n)} hours of brood and outside temperature`],
  };
}
