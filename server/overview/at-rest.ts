/** Whether a nuc's readings were at rest between two instants, so that nothing came and went unseen in between. */
import { between, indexAt, latest } from '../signals/series.ts';
import type { NucSeries, Series } from '../signals/types.ts';

/** The scatter of a probe, and of a scale in the sun and wind; what rules tell apart is several times as large. */
const scatterC = 0.25;
const scatterG = 40;

/**
 * True where brood, cage and weight stay within what their two ends span, but for their scatter. While nothing is read
 * nothing new can be found.
 */
export const atRest = ({ broodC, cageC, weightG }: NucSeries, fromMs: number, toMs: number): boolean =>
  staysWithin(broodC, fromMs, toMs, scatterC) &&
  staysWithin(cageC, fromMs, toMs, scatterC) &&
  staysWithin(weightG, fromMs, toMs, scatterG);

function staysWithin(series: Series | undefined, fromMs: number, toMs: number, scatter: number): boolean {
  const first = latest(series, fromMs);
  const last = latest(series, toMs);
  // A sensor that has not begun, or that said nothing in the whole stretch, can't have moved.
  if (!series || !last || first?.atMs === last.atMs) return true;
  if (!first) return false;
  const low = Math.min(first.value, last.value) - scatter;
  const high = Math.max(first.value, last.value) + scatter;
  const { value } = between(series, first.atMs, toMs + 1);
  return value.every((v) => v >= low && v <= high);
}

/** The first reading of any sensor after an instant, ms; infinity where none came. */
export const nextReadingMs = (series: NucSeries, nowMs: number): number =>
  Math.min(...Object.values(series).map((one: Series) => one.atMs[indexAt(one, nowMs + 1)] ?? Infinity));
