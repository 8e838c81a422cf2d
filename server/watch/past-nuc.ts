/** One nuc as it would have been judged at earlier instants, each seeing no reading later than itself. */
import type { IntroductionState } from '../introduction/state.ts';
import { analyseWhenAsked, newAnalysisCache, type AnalysisInput } from '../signals/analyse.ts';
import { between, latest } from '../signals/series.ts';
import type { Forecast, NucSeries, NucSignals, Series } from '../signals/types.ts';
import type { Store } from '../store/store.ts';
import { analysisInput, fold, judge, type FarmChoices, type NucAnalysis } from './nuc-analysis.ts';
import type { NucContext } from './nuc-context.ts';
import { readNucSeries } from './nuc-series.ts';

const dayMs = 86_400_000;
/** Before the split, for the nights that the drift and the scale are judged by. */
const beforeDay0Ms = 2 * dayMs;
const withoutIntroductionMs = 21 * dayMs;
/** A new queen's first brood has emerged by then; older readings are for charts. */
export const longestSpanMs = 60 * dayMs;

/** Signals also age without new readings: the day goes on, and what was now is an hour ago. */
export const signalsKeepMs = 10 * 60_000;
/** Of instants near one another, while one of them is looked for. */
const signalsKept = 32;

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
  /**
   * As the watch saw it, that looks so often: what was logged later is not known yet, and signals are as old as it
   * keeps them. Else all that is known now is, and signals are of the instant.
   */
  readonly asWatchedEveryMs?: number;
}

export interface PastNuc {
  /** The readings that the analyses rest on. */
  readonly series: NucSeries;
  /** In any order; near one another is quickest. */
  analysisAt(atMs: number): NucAnalysis;
}

export function pastNuc(store: Store, context: NucContext, past: Past): PastNuc {
  const series = readNucSeries(store, context.nuc, past.fromMs - longestSpanMs, past.toMs + 1);
  // Its own: what is kept of the present must not be let go for the past.
  const cache = newAnalysisCache({ whenAsked: true });
  const everyMs = past.asWatchedEveryMs;
  /** By how much of the log was written: the same log is folded once. */
  const contexts = new Map<number, NucContext>();
  function logAt(atMs: number): NucContext {
    if (everyMs === undefined) return context;
    const log = context.log.filter(({ writtenAtMs }) => writtenAtMs <= atMs);
    let then = contexts.get(log.length);
    if (!then) contexts.set(log.length, (then = { ...context, log }));
    return then;
  }
  let folded: {
    readonly of: NucContext;
    readonly atMs: number;
    readonly state: IntroductionState | null;
  } | null = null;
  function stateAt(then: NucContext, atMs: number): IntroductionState | null {
    if (folded?.of !== then || folded.atMs !== atMs) folded = { of: then, atMs, state: fold(then, atMs) };
    return folded.state;
  }
  const known = new Map<number, NucSignals | null>();
  const isEmpty = Object.keys(series).length === 0;
  let lookedAtMs: number | undefined;

  function readingsAt(then: NucContext, atMs: number): AnalysisInput {
    const state = stateAt(then, atMs);
    const forecast = past.forecastAt(atMs);
    const input = analysisInput(then, state, cut(series, seriesFromMs(state, atMs), atMs), {
      // What lies before both instants is the same for both.
      ...(lookedAtMs === undefined ? {} : { changedFromMs: Math.min(lookedAtMs, atMs) }),
      ...(forecast ? { forecast } : {}),
    });
    lookedAtMs = atMs;
    return input;
  }
  function signalsAt(atMs: number): NucSignals | null {
    let signals = known.get(atMs);
    if (signals !== undefined) return signals;
    const then = logAt(atMs);
    signals = isEmpty ? null : analyseWhenAsked(() => readingsAt(then, atMs), atMs, cache);
    if (known.size >= signalsKept) known.clear();
    known.set(atMs, signals);
    return signals;
  }

  return {
    series,
    analysisAt(atMs) {
      const then = logAt(atMs);
      const signals = signalsAt(everyMs === undefined ? atMs : readAtMs(series, then, atMs, everyMs));
      return judge(then, stateAt(then, atMs), signals, atMs, past.choices);
    },
  };
}

/** When the watch last read the signals: at what came or was logged last, and again where they had become too old. */
function readAtMs(
  { weightG, broodC, cageC }: NucSeries,
  { log }: NucContext,
  atMs: number,
  everyMs: number,
): number {
  const cameMs = [weightG, broodC, cageC].flatMap((series) => latest(series, atMs)?.atMs ?? []);
  const newestMs = Math.max(0, ...cameMs, ...log.map(({ writtenAtMs }) => writtenAtMs));
  const seenAtMs = Math.ceil(newestMs / everyMs) * everyMs;
  const againMs = signalsKeepMs + everyMs;
  return Math.min(atMs, seenAtMs + Math.floor((atMs - seenAtMs) / againMs) * againMs);
}

const cut = (series: NucSeries, fromMs: number, toMs: number): NucSeries =>
  Object.fromEntries(
    Object.entries(series).map(([name, one]) => [name, between(one as Series, fromMs, toMs + 1)]),
  );
