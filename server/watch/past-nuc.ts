/** One nuc as it would have been judged at earlier instants, each seeing no reading later than itself. */
import type { IntroductionState } from '../introduction/state.ts';
import { newAnalysisCache } from '../signals/analyse.ts';
import { between } from '../signals/series.ts';
import type { Forecast, NucSeries, Series } from '../signals/types.ts';
import type { Store } from '../store/store.ts';
import { fold, judge, signalsOf, type FarmChoices, type NucAnalysis } from './nuc-analysis.ts';
import type { NucContext } from './nuc-context.ts';
import { readNucSeries } from './nuc-series.ts';
import { settledByHour } from './settled-hives.ts';
import { dayMs } from '../durations.ts';

/** Before the split, for the nights that the drift and the scale are judged by. */
const beforeDay0Ms = 2 * dayMs;
const withoutIntroductionMs = 21 * dayMs;
/** A new queen's first brood has emerged by then; older readings are for charts. */
export const longestSpanMs = 60 * dayMs;

/** Signals also age without new readings: the day goes on, and what was now is an hour ago. */
export const signalsKeepMs = 10 * 60_000;

/** From where on readings are looked at. */
export function seriesFromMs(state: IntroductionState | null, nowMs: number): number {
  const day0Ms = state?.day0Ms ?? null;
  const wantedMs = day0Ms === null ? nowMs - withoutIntroductionMs : day0Ms - beforeDay0Ms;
  return Math.max(wantedMs, nowMs - longestSpanMs);
}

export interface Past {
  readonly fromMs: number;
  readonly toMs: number;
  readonly choices: FarmChoices;
  readonly forecastAt: (atMs: number) => Forecast | undefined;
  /** At each instant the log as it had been written by then; else all of it. */
  readonly logAsWritten?: boolean;
}

/** Instants in any order; near one another is quickest. */
export function pastNuc(store: Store, context: NucContext, past: Past): (atMs: number) => NucAnalysis {
  const series = readNucSeries(store, context.nuc, past.fromMs - longestSpanMs, past.toMs + 1);
  // Its own: what is kept of the present must not be let go for the past.
  const cache = newAnalysisCache({ layDaysOut: true });
  const settled = settledByHour(store);
  const contextAt = past.logAsWritten ? asWritten(context) : () => context;
  let lastMs: number | undefined;
  return (atMs) => {
    const then = contextAt(atMs);
    const state = fold(then, atMs);
    const forecast = past.forecastAt(atMs);
    const signals = signalsOf(then, state, cut(series, seriesFromMs(state, atMs), atMs), atMs, {
      cache,
      // Each instant sees its own part of it.
      settledAt: (site, movedMs) => settled(site, movedMs, past.toMs),
      // What lies before both instants is the same for both.
      ...(lastMs === undefined ? {} : { changedFromMs: Math.min(lastMs, atMs) }),
      ...(forecast ? { forecast } : {}),
    });
    lastMs = atMs;
    return judge(then, state, signals, atMs, past.choices);
  };
}

/** The context with as much of the log as was written by then; the same one until more is. */
function asWritten(context: NucContext): (atMs: number) => NucContext {
  let last = context;
  return (atMs) => {
    const log = context.log.filter(({ writtenAtMs }) => writtenAtMs <= atMs);
    const visits = context.visits.filter(({ writtenAtMs }) => writtenAtMs <= atMs);
    if (log.length !== last.log.length || visits.length !== last.visits.length)
      last = { ...context, log, visits };
    return last;
  };
}

const cut = (series: NucSeries, fromMs: number, toMs: number): NucSeries =>
  Object.fromEntries(
    Object.entries(series).map(([name, one]) => [name, between(one as Series, fromMs, toMs + 1)]),
  );
