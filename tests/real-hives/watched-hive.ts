/**
 * The rules over a real series, as the watch would have run them: once as a hive without an introduction, once as a
 * nuc whose log puts brood at stake throughout. Beside it a fixed limit, as a thermometer with an alarm has it.
 */
import type { NucInput } from '../../server/rules/engine/inputs.ts';
import { replay, type Raising } from '../../server/rules/engine/replay.ts';
import { rules } from '../../server/rules/catalogue/registry.ts';
import { analyseNuc, newAnalysisCache } from '../../server/signals/analyse.ts';
import type { BroodRegime, KnownEvent, NucSeries, Series, SitePlace } from '../../server/signals/types.ts';
import { nucInput, stage } from '../rules/made-up.ts';

const minuteMs = 60_000;
const hourMs = 60 * minuteMs;
const dayMs = 24 * hourMs;

export interface WatchedHive {
  readonly name: string;
  readonly place: SitePlace;
  readonly series: NucSeries & { readonly broodC: Series };
  readonly visits: readonly KnownEvent[];
}

/** `plain`: no introduction. `at-stake`: sealed brood all the time, a queen on her way, nobody visits but those listed. */
export type Log = 'plain' | 'at-stake';

export interface WatchOptions {
  /** Width of the grid, ms. */
  readonly stepMs: number;
  /** One reading kept in this time, ms; all where absent. */
  readonly everyMs?: number;
  readonly withoutOutside?: boolean;
  readonly withoutWeight?: boolean;
  /** The last days only, counted from the end of the series. */
  readonly lastDays?: number;
}

/** First reading of each span of `everyMs`. */
function thinned({ atMs, value }: Series, everyMs: number): Series {
  const kept: number[] = [];
  for (let i = 0, last = -Infinity; i < atMs.length; i++) {
    const slot = Math.floor((atMs[i] as number) / everyMs);
    if (slot === last) continue;
    last = slot;
    kept.push(i);
  }
  return {
    atMs: Float64Array.from(kept, (i) => atMs[i] as number),
    value: Float64Array.from(kept, (i) => value[i] as number),
  };
}

function prepared(hive: WatchedHive, options: WatchOptions): WatchedHive {
  const thin = (series: Series): Series => (options.everyMs ? thinned(series, options.everyMs) : series);
  const { broodC, outsideC, weightG } = hive.series;
  return {
    ...hive,
    series: {
      broodC: thin(broodC),
      ...(outsideC && !options.withoutOutside ? { outsideC } : {}),
      ...(weightG && !options.withoutWeight ? { weightG: thin(weightG) } : {}),
    },
  };
}

function spanOf({ series: { broodC } }: WatchedHive, { lastDays = Infinity }: WatchOptions) {
  const toMs = broodC.atMs.at(-1) ?? 0;
  return { fromMs: Math.max((broodC.atMs[0] ?? 0) + dayMs, toMs - lastDays * dayMs), toMs };
}

export function hiveMonths(hive: WatchedHive, options: WatchOptions): number {
  const { fromMs, toMs } = spanOf(hive, options);
  return (toMs - fromMs) / (30.44 * dayMs);
}

const nucRules = rules.filter((rule) => rule.on === 'nuc');

/** *Now* and *today* about the nuc itself: brood, queen, robbing, swarm, disturbance, stores. */
export function alertsOf(hive: WatchedHive, log: Log, options: WatchOptions): Raising[] {
  const { place, visits, series } = prepared(hive, options);
  const regime: BroodRegime = log === 'plain' ? 'unknown' : 'sealed-brood';
  const introduction: NucInput['introduction'] = log === 'plain' ? null : stage({ stage: 'caged' });
  const cache = newAnalysisCache();
  let lastMs = -Infinity;
  const { raisings } = replay({
    ...spanOf(hive, options),
    stepMs: options.stepMs,
    rules: nucRules,
    inputsAt: (nowMs) => {
      const events = visits.filter(({ atMs }) => atMs <= nowMs);
      const input = { series, place, events, broodRegime: () => regime, changedFromMs: lastMs };
      lastMs = nowMs;
      const lastVisitAtMs = events.at(-1)?.atMs ?? null;
      const signals = analyseNuc(input, nowMs, cache);
      return [nucInput({ nowMs, introduction, signals, lastVisitAtMs, timeZone: place.timeZone })];
    },
  });
  return raisings.filter(({ urgency }) => urgency === 'now' || urgency === 'today');
}

/** Alarms of a fixed limit: under 32 °C for half an hour, over when it was back for as long. */
export function fixedLimitAlarms(hive: WatchedHive, options: WatchOptions): number {
  const { fromMs, toMs } = spanOf(hive, options);
  const { atMs, value } = hive.series.broodC;
  let alarms = 0;
  let raised = false;
  let sinceMs: number | null = null;
  for (let i = 0; i < atMs.length; i++) {
    const at = atMs[i] as number;
    if (at < fromMs || at > toMs) continue;
    const cold = (value[i] as number) < 32;
    if (cold === raised) sinceMs = null;
    else if (at - (sinceMs ??= at) >= 30 * minuteMs) {
      raised = cold;
      if (raised) alarms += 1;
      sinceMs = null;
    }
  }
  return alarms;
}
