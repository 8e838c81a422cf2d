/** Coupling of the brood nest to the outside: how far the one follows the other. */
import { followedSwingK, nestMemoryHours } from '../../biology/nest-figures.ts';
import { level90, tenths, z90 } from '../statistics/intervals.ts';
import { kelvin, say } from '../../words/phrase.ts';
import { fingerprint, memoize, type AnalysisCache } from '../analysis-cache.ts';
import { lagged, valueAt } from '../bins.ts';
import { between, hourMs } from '../series.ts';
import { median, quantiles, robustLine } from '../statistics/robust.ts';
import type { Estimate, Series } from '../types.ts';

const independentMs = nestMemoryHours.value * hourMs;
/** Method: fewer bins of the span tell nothing. */
const leastBins = 36;
/** Method: errors of a slope under this are rounding. */
const leastSlopeError = 0.005;
/** Method: lags that are tried, and the span that is looked at. */
const lagsMs = [0, 1, 2, 3, 4, 6].map((hours) => hours * hourMs);
/** Method: days of both temperatures. */
const spanMs = 72 * hourMs;
/** Method: two days before the first hour settle the slowest lag. */
const readMs = spanMs + 48 * hourMs;

/**
 * Slope of brood on outside temperature over 72 whole hours up to three hours ago at most, at the lag that explains
 * most: 0 is regulated, 1 is not at all. Robust line on hourly values; its error is widened for hours that go together.
 */
export function couplingUpTo(brood: Series, outside: Series, nowMs: number, cache?: AnalysisCache): Estimate {
  // Hours within three tell next to nothing new.
  const wholeMs = Math.floor(nowMs / independentMs) * independentMs;
  const read = [brood, outside].map((bins) => between(bins, wholeMs - readMs, wholeMs));
  const [broodC, outsideC] = read as [Series, Series];
  return memoize(cache, 'coupling', [wholeMs, ...read.map(fingerprint)], () =>
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
    const [p10, p90] = quantiles(x, tenths.low, tenths.high) as [number, number];
    if (p90 - p10 < followedSwingK.value) continue;
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
      why: say`too few hours of both temperatures, or the outside did not change by ${kelvin(followedSwingK.value)}`,
    };
  const half = z90 * Math.max(leastSlopeError, best.se * Math.sqrt(independentMs / hourMs));
  return {
    ok: true,
    value: best.slope,
    low: best.slope - half,
    high: best.slope + half,
    level: level90,
    restsOn: [`${String(best.n)} hours of brood and outside temperature`],
  };
}
