/** Night weight: the level and slope of a scale through the hours in which nobody flies. */
import type { Bins } from '../bins.ts';
import { binMs } from '../bins.ts';
import { hourMs, indexAt, minuteMs, usualIntervalMs } from '../series.ts';
import { robustLine } from '../statistics/robust.ts';
import type { NightWeight, Series } from '../types.ts';

/** Method: share of the quiet hours without which a night is not read. */
const leastCoverage = 0.4;
/** Method: hours without which it is not read. */
const leastHours = 3;
/** Method: bins without which it is not read. */
const leastBins = 4;
/** Method: a scale that tells its weight less often than about once an hour shows neither a night nor a day. */
const seldomMs = 75 * minuteMs;

/** How long its readings stand for, ms, each for the scale's own interval; `tooSeldom` where that is too long. */
export function covered(weight: Series): { readonly ms: number; readonly tooSeldom: boolean } {
  const intervalMs = Math.max(binMs, usualIntervalMs(weight) ?? binMs);
  return { ms: weight.atMs.length * intervalMs, tooSeldom: intervalMs > seldomMs };
}

export interface QuietHours {
  readonly fromMs: number;
  readonly toMs: number;
}

/**
 * Robust straight line through the quiet hours of one night, on ten-minute medians with weight steps already
 * taken out. `date` is the local date of the dawn that ends it. Null where too little of the night is covered.
 */
export function nightWeight(date: string, quiet: QuietHours, weight: Bins): NightWeight | null {
  const from = indexAt(weight, quiet.fromMs);
  const end = Math.max(from, indexAt(weight, quiet.toMs + 1));
  const bins = end - from;
  const { ms, tooSeldom } = covered({
    atMs: weight.atMs.subarray(from, end),
    value: weight.value.subarray(from, end),
  });
  const coverage = Math.min(1, ms / (quiet.toMs - quiet.fromMs));
  if (tooSeldom || coverage < leastCoverage || ms < leastHours * hourMs || bins < leastBins) return null;
  const hours = new Float64Array(bins);
  let readings = 0;
  for (let i = from; i < end; i++) {
    hours[i - from] = ((weight.atMs[i] as number) - quiet.toMs) / hourMs;
    readings += weight.count[i] as number;
  }
  const line = robustLine(hours, weight.value.subarray(from, end));
  if (!line) return null;
  return {
    date,
    fromMs: quiet.fromMs,
    toMs: quiet.toMs,
    levelG: line.intercept,
    slopeGPerH: line.slope,
    residualG: line.residualSd,
    readings,
    coverage,
  };
}
