/** Brood nest: level, spread, share in band and coupling to the outside, against what its stage should show. */
import { broodNestC } from '../biology/thermal-figures.ts';
import { binMs, lagged, valueAt, type Bins } from './bins.ts';
import type { LocalDay } from './days.ts';
import { between, hourMs, latest, usualIntervalMs } from './series.ts';
import { median, quantiles, robustLine } from './statistics/robust.ts';
import type { BroodDay, BroodRegime, BroodTemperature, Estimate, Series } from './types.ts';

const broodLevel = 0.9;
const z90 = 1.645;
/** Brood temperature follows itself: readings this far apart count as separate. */
const independentMs = 3 * hourMs;
const leastBins = 36;
const lagsMs = [0, 1, 2, 3, 4, 6].map((hours) => hours * hourMs);

/**
 * Band in which a nest of this regime is expected: 33-36 °C with brood (Jones et al. 2005 and others), half a degree
 * wider below while only sealed brood is left; none without brood, where level and spread say little.
 */
export function expectedBand(regime: BroodRegime): { low: number; high: number } | null {
  const low = broodNestC.low ?? broodNestC.value;
  const high = broodNestC.high ?? broodNestC.value;
  if (regime === 'open-brood' || regime === 'new-brood-expected') return { low, high };
  return regime === 'sealed-brood' ? { low: low - 0.5, high } : null;
}

export function broodTemperature(
  regime: BroodRegime,
  raw: Series | undefined,
  brood: Bins,
  outside: Bins,
  nowMs: number,
): BroodTemperature {
  const newest = latest(raw, nowMs);
  const day = between(brood, nowMs - 24 * hourMs, nowMs + 1);
  const common = {
    regime,
    bandC: expectedBand(regime),
    latestC: newest?.value ?? null,
    latestAtMs: newest?.atMs ?? null,
  };
  if (day.value.length < leastBins) {
    const why = raw
      ? 'fewer than six hours of brood temperature in the last day'
      : 'no sensor reports the brood temperature';
    const none: Estimate = { ok: false, why };
    return { ...common, levelC: none, spreadC: none, shareInBand: none, coupling: none };
  }
  const hours = (day.value.length * binMs) / hourMs;
  const restsOn = [`${hours.toFixed(0)} of the last 24 hours`];
  const independent = Math.max(2, (hours * hourMs) / independentMs);
  const [p10, p50, p90] = quantiles(day.value, 0.1, 0.5, 0.9) as [number, number, number];
  const spread = p90 - p10;
  // A normal's p90 − p10 is 2.56 sd; its median errs by 1.25 sd/√n, the spread by about 2.4 sd/√n.
  const sd = spread / 2.563;
  return {
    ...common,
    levelC: estimate(p50, (z90 * 1.253 * sd) / Math.sqrt(independent), restsOn),
    spreadC: estimate(spread, (z90 * 2.4 * sd) / Math.sqrt(independent), restsOn, 0),
    shareInBand: shareEstimate(day.value, common.bandC, independent, restsOn),
    coupling: coupling(brood, outside, nowMs),
  };
}

function estimate(value: number, half: number, restsOn: readonly string[], floor = -Infinity): Estimate {
  return {
    ok: true,
    value,
    low: Math.max(floor, value - half),
    high: value + half,
    level: broodLevel,
    restsOn,
  };
}

function shareEstimate(
  values: Float64Array,
  band: { low: number; high: number } | null,
  independent: number,
  restsOn: readonly string[],
): Estimate {
  if (!band) return { ok: false, why: 'without brood no band is expected' };
  const share = values.filter((v) => v >= band.low && v <= band.high).length / values.length;
  // Agresti and Coull's interval, which does not vanish at 0 and 1.
  const n = independent + z90 ** 2;
  const centre = (share * independent + z90 ** 2 / 2) / n;
  const half = z90 * Math.sqrt((centre * (1 - centre)) / n);
  return {
    ok: true,
    value: share,
    low: Math.max(0, Math.min(share, centre - half)),
    high: Math.min(1, Math.max(share, centre + half)),
    level: broodLevel,
    restsOn,
  };
}

/**
 * Slope of brood on outside temperature over the last 72 hours, at the lag that explains most: 0 is regulated, 1 is
 * not at all. Robust line on hourly values; its error is widened for hours that go together.
 */
function coupling(brood: Bins, outside: Bins, nowMs: number): Estimate {
  const fromMs = nowMs - 72 * hourMs;
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
    return { ok: false, why: 'too few hours of both temperatures, or the outside did not change by 3 K' };
  const half = z90 * Math.max(0.005, best.se * Math.sqrt(independentMs / hourMs));
  return estimate(best.slope, half, [`${String(best.n)} hours of brood and outside temperature`]);
}

/** One local day of the brood probe; null with less than a third of the day covered. */
export function broodDay(day: LocalDay, brood: Bins): BroodDay | null {
  const part = between(brood, day.fromMs, day.toMs);
  const values = part.value;
  // With fewer readings than bins (every 15 or 30 minutes) each stands for more.
  const grainMs = Math.max(binMs, Math.min(hourMs, usualIntervalMs(part) ?? binMs));
  const coverage = Math.min(1, (values.length * grainMs) / (day.toMs - day.fromMs));
  if (values.length < 16) return null;
  const band = { low: broodNestC.low ?? 0, high: broodNestC.high ?? 0 };
  const [p10, p50, p90] = quantiles(values, 0.1, 0.5, 0.9) as [number, number, number];
  return {
    date: day.date,
    medianC: p50,
    minC: Math.min(...values),
    maxC: Math.max(...values),
    spreadC: p90 - p10,
    shareInBand: values.filter((v) => v >= band.low && v <= band.high).length / values.length,
    coverage,
  };
}
