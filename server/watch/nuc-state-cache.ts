/**
 * What was last worked out about one nuc, and what has come in since. Keeps the analysis up to date at
 * a cost that depends on what is new, not on how much history there is.
 */
import { newAnalysisCache, type AnalysisCache } from '../signals/analyse.ts';
import type { Forecast, NucSeries, NucSignals } from '../signals/types.ts';
import type { Store } from '../store/store.ts';
import { fold, judge, signalsOf, type FarmChoices, type NucAnalysis } from './nuc-analysis.ts';
import { nucContext, type NucContext } from './nuc-context.ts';
import { readNucSeries } from './nuc-series.ts';
import { settledByHour, type SettledAt } from './settled-hives.ts';
import { pastNuc, seriesFromMs, signalsKeepMs } from './past-nuc.ts';
import { minuteMs } from '../durations.ts';

/** Gates and plan change with the hour, not with the second. */
const judgementKeepMs = 2 * minuteMs;

export class NucStateCache {
  readonly #store: Store;
  readonly #nucId: string;
  #context: NucContext | null = null;
  #cache: AnalysisCache = newAnalysisCache();
  #settledAt: SettledAt;
  #signals: NucSignals | null = null;
  #signalsAtMs = -Infinity;
  /** Earliest reading that came since the signals were read; −∞: everything may be different. */
  #changedFromMs = -Infinity;
  #judged: NucAnalysis | null = null;

  constructor(store: Store, nucId: string) {
    this.#store = store;
    this.#nucId = nucId;
    this.#settledAt = settledByHour(store);
  }

  get signalsAtMs(): number {
    return this.#signalsAtMs;
  }

  /** Readings came in, the earliest of them observed at `observedAtMs`. */
  readingsCame(observedAtMs: number): void {
    this.#changedFromMs = Math.min(this.#changedFromMs, observedAtMs);
  }

  /** Something was logged: the readings stand, what they mean may not. */
  logChanged(): void {
    this.#context = null;
    this.#judged = null;
    this.#signalsAtMs = -Infinity;
  }

  /** Assignments, calibration or the site changed: nothing that was read stands. */
  setupChanged(): void {
    this.logChanged();
    this.#cache = newAnalysisCache();
    this.#settledAt = settledByHour(this.#store);
    this.#changedFromMs = -Infinity;
  }

  /** What was worked out stays; its days are read anew where more is asked for. */
  forgetDays(): void {
    this.#cache = newAnalysisCache();
  }

  /** What is known, worked out again where it is out of date; undefined for a nuc that is not there. */
  analysis(
    nowMs: number,
    choices: FarmChoices,
    forecast: Forecast | undefined,
    fresh = false,
  ): NucAnalysis | undefined {
    const context = this.#contextNow();
    if (!context) return undefined;
    const newReadings = this.#changedFromMs < Infinity;
    const old = nowMs - this.#signalsAtMs > signalsKeepMs || nowMs < this.#signalsAtMs;
    // A look back ends with the instant at which it began: what was logged since is not in what it leaves here.
    const logged = loggedBetween(context, this.#signalsAtMs, nowMs);
    if (old || logged || (fresh && newReadings)) this.#readSignals(context, nowMs, forecast);
    else if (this.#judged && nowMs - this.#judged.nowMs < judgementKeepMs && nowMs >= this.#judged.nowMs)
      return this.#judged;
    this.#judged = judge(context, fold(context, nowMs), this.#signals, nowMs, choices);
    return this.#judged;
  }

  /** The nuc as it would have been judged at earlier instants, from what is known of them now. */
  past(
    nowMs: number,
    choices: FarmChoices,
    forecastAt: (atMs: number) => Forecast | undefined,
  ): (atMs: number) => NucAnalysis | undefined {
    const context = this.#contextNow();
    if (!context) return () => undefined;
    const toMs = nowMs;
    const fromMs = seriesFromMs(fold(context, nowMs), nowMs);
    return pastNuc(this.#store, context, { fromMs, toMs, choices, forecastAt });
  }

  #contextNow(): NucContext | null {
    if (this.#context) return this.#context;
    const nuc = this.#store.places.hive(this.#nucId);
    this.#context = nuc?.role === 'nuc' ? nucContext(this.#store, nuc) : null;
    return this.#context;
  }

  #series(context: NucContext, nowMs: number): NucSeries {
    return readNucSeries(this.#store, context.nuc, seriesFromMs(fold(context, nowMs), nowMs), nowMs + 1);
  }

  #readSignals(context: NucContext, nowMs: number, forecast: Forecast | undefined): void {
    const state = fold(context, nowMs);
    const series = this.#series(context, nowMs);
    const changedFromMs = this.#changedFromMs;
    this.#signals = signalsOf(context, state, series, nowMs, {
      cache: this.#cache,
      settledAt: this.#settledAt,
      ...(changedFromMs === -Infinity ? {} : { changedFromMs: Math.min(changedFromMs, nowMs) }),
      ...(forecast ? { forecast } : {}),
    });
    this.#signalsAtMs = nowMs;
    this.#changedFromMs = Infinity;
  }
}

/** Whether anything happened, or was written down, after the one instant and no later than the other. */
const loggedBetween = ({ log }: NucContext, afterMs: number, untilMs: number): boolean =>
  log.some(({ happenedAtMs, writtenAtMs }) =>
    [happenedAtMs, writtenAtMs].some((atMs) => atMs > afterMs && atMs <= untilMs),
  );
