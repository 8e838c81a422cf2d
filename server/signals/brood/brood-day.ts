/** One day of the brood probe: level, spread and extremes. */
import { tenths } from '../statistics/intervals.ts';
import { highEnd, lowEnd } from '../../biology/figure.ts';
import { broodNestC } from '../../biology/thermal-figures.ts';
import { binMs } from '../bins.ts';
import type { LocalDay } from '../days.ts';
import { between, hourMs, usualIntervalMs } from '../series.ts';
import { quantiles } from '../statistics/robust.ts';
import type { BroodDay, Series } from '../types.ts';

/** Method: fewer readings are no day. */
const leastReadings = 16;

/** One local day of the brood probe, in ten-minute bins; null with too few of them. How much of the day they cover is told beside it. */
export function broodDay(day: LocalDay, brood: Series): BroodDay | null {
  const part = between(brood, day.fromMs, day.toMs);
  const values = part.value;
  // With fewer readings than bins (every 15 or 30 minutes) each stands for more.
  const grainMs = Math.max(binMs, Math.min(hourMs, usualIntervalMs(part) ?? binMs));
  const coverage = Math.min(1, (values.length * grainMs) / (day.toMs - day.fromMs));
  if (values.length < leastReadings) return null;
  const band = { low: lowEnd(broodNestC), high: highEnd(broodNestC) };
  const [min, p10, p50, p90, max] = quantiles(values, 0, tenths.low, tenths.middle, tenths.high, 1) as [
    number,
    number,
    number,
    number,
    number,
  ];
  return {
    date: day.date,
    medianC: p50,
    minC: min,
    maxC: max,
    spreadC: p90 - p10,
    shareInBand: values.filter((v) => v >= band.low && v <= band.high).length / values.length,
    coverage,
  };
}
