/** What all signals of a nuc are read from, up to one instant. */
import type { AnalysisCache } from './analysis-cache.ts';
import { joinSeries } from './bins.ts';
import { silentWhy } from './brood/brood-temperature.ts';
import { cleanTemperature } from './day.ts';
import type { AnalysisInput } from './input.ts';
import type { NucDay } from './kept-day.ts';
import { readDays, upTo, type ReadDays } from './read-days.ts';
import { between, hourMs } from './series.ts';
import type { Series } from './types.ts';

/** What all signals are read from. */
export interface Read extends ReadDays {
  readonly nowMs: number;
  readonly input: AnalysisInput;
  /** The input without what comes after `nowMs`. */
  readonly seen: AnalysisInput;
  readonly recent: ReturnType<typeof recentDays>;
  /** The brood probe's last days, cleaned, and why it counts as silent, if it does. */
  readonly broodC: Series | undefined;
  readonly silent: ReturnType<typeof silentWhy>;
}

export function readAll(input: AnalysisInput, nowMs: number, cache: AnalysisCache | undefined): Read {
  const seen = upTo(input, nowMs);
  const read = readDays(seen, nowMs, cache);
  const broodC = lastDays(input.series.broodC, nowMs);
  const silent = silentWhy(broodC, nowMs);
  return { nowMs, input, seen, recent: recentDays(read.days, nowMs), broodC, silent, ...read };
}

/** Method: days that the newest findings look at. */
const recentSpan = 12;

/** The last twelve days as one run of bins. */
function recentDays(days: readonly NucDay[], nowMs: number) {
  const kept = days.filter((day) => day.day.toMs > nowMs - recentSpan * 24 * hourMs);
  return {
    days: kept,
    brood: joinSeries(kept.map((day) => day.brood)),
    outside: joinSeries(kept.map((day) => day.outside)),
  };
}

/** Method: hours of raw readings that are cleaned for the newest values. */
const newestHours = 48;
export const lastDays = (series: Series | undefined, nowMs: number): Series | undefined =>
  series && cleanTemperature(between(series, nowMs - newestHours * hourMs, nowMs + 1));
