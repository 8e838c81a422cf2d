/** Whether a nuc's readings were at rest between two instants, so that nothing came and went unseen in between. */
import {
  broodHotC,
  openBroodColdC,
  queenColdC,
  queenHotC,
  sealedBroodColdC,
} from '../biology/thermal-figures.ts';
import { between, indexAt, latest } from '../signals/series.ts';
import type { NucSeries, Series } from '../signals/types.ts';

/** A series silent for longer says no more to some rule. */
const longestGapMs = 20 * 60_000;
/** Sensors of one device fall silent within so long of one another. */
const soonMs = 10 * 60_000;

/** How far a series may stray beyond its two ends; what rules tell apart is several times as large. */
interface Scatter {
  readonly by: number;
  /** Most that the ends may lie apart: a long fall is seen on its way, not from its two ends. */
  readonly apart: number;
  /** Near these any straying counts: a finding may come and go. */
  readonly limits: readonly number[];
}

/** As set by default, a finding clears within a degree of the limit at which it is raised. */
const nearK = 1;
const broodScatter: Scatter = {
  by: 0.25,
  apart: 1,
  limits: [openBroodColdC.value, sealedBroodColdC.value, broodHotC.value],
};
const cageScatter: Scatter = { by: 0.25, apart: Infinity, limits: [queenColdC.value, queenHotC.value] };
/** A scale in the sun and wind, g. */
const weightScatter: Scatter = { by: 80, apart: Infinity, limits: [] };

/** True where brood, cage and weight stay within what their two ends span, but for their scatter, and no fall is thought on. */
export const atRest = ({ broodC, cageC, weightG }: NucSeries, fromMs: number, toMs: number): boolean =>
  !fellSilentOnTheMove(broodC, fromMs) &&
  staysWithin(broodC, fromMs, toMs, broodScatter) &&
  staysWithin(cageC, fromMs, toMs, cageScatter) &&
  staysWithin(weightG, fromMs, toMs, weightScatter);

/** A fall is thought on for a while where the probe says no more, and a limit comes nearer without a reading. */
const thoughtOnMs = 60 * 60_000;
const fallSpanMs = 90 * 60_000;
const moveK = 0.5;

function fellSilentOnTheMove(broodC: Series | undefined, atMs: number): boolean {
  const last = latest(broodC, atMs);
  if (!broodC || !last || atMs - last.atMs > thoughtOnMs) return false;
  const nextMs = broodC.atMs[indexAt(broodC, atMs + 1)] ?? Infinity;
  if (nextMs - last.atMs <= longestGapMs) return false;
  const { value } = between(broodC, last.atMs - fallSpanMs, last.atMs + 1);
  return value.some((v) => Math.abs(v - last.value) > moveK);
}

function staysWithin(series: Series | undefined, fromMs: number, toMs: number, scatter: Scatter): boolean {
  const first = latest(series, fromMs);
  const last = latest(series, toMs);
  // A sensor that has not begun, or that said nothing in the whole stretch, can't have moved.
  if (!series || !last || first?.atMs === last.atMs) return true;
  if (!first) return false;
  const low = Math.min(first.value, last.value);
  const high = Math.max(first.value, last.value);
  if (high - low > scatter.apart) return false;
  const { value } = between(series, first.atMs, toMs + 1);
  return value.every((v) => {
    const strays = Math.max(low - v, v - high);
    return strays <= 0 || (strays <= scatter.by && scatter.limits.every((at) => Math.abs(v - at) > nearK));
  });
}

/**
 * The last reading of brood, cage and weight before each silence, ms, rising. What was found by then would go unseen by a
 * look in the silence, in which nothing can be told. Of several within minutes the last.
 */
export const lastWordsMs = ({ broodC, cageC, weightG }: NucSeries): number[] =>
  [broodC, cageC, weightG]
    .flatMap((series) => {
      const atMs = series?.atMs ?? new Float64Array(0);
      return [...atMs.filter((at, i) => (atMs[i + 1] ?? Infinity) - at > longestGapMs)];
    })
    .sort((a, b) => a - b)
    .filter((at, i, all) => (all[i + 1] ?? Infinity) - at > soonMs);

/** The first reading of any sensor after an instant, ms; infinity where none came. */
export const nextReadingMs = (series: NucSeries, nowMs: number): number =>
  Math.min(...Object.values(series).map((one: Series) => one.atMs[indexAt(one, nowMs + 1)] ?? Infinity));
