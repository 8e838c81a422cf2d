/**
 * The rules over a real series, as the watch would have run them: once as a hive without an introduction, once as a
 * nuc whose log puts brood at stake throughout. Beside it a fixed limit, as a thermometer with an alarm has it.
 */
import type { NucInput } from '../../server/rules/engine/inputs.ts';
import { noLimitSettings, type LimitSettings } from '../../server/rules/engine/limits.ts';
import { replay, type Raising } from '../../server/rules/engine/replay.ts';
import { rules } from '../../server/rules/catalogue/registry.ts';
import { analyseNuc, newAnalysisCache } from '../../server/signals/analyse.ts';
import type { KnownEvent, NucSeries, NucSignals, Series, SitePlace } from '../../server/signals/types.ts';
import { nucInput, stage } from '../rules/made-up.ts';

const minuteMs = 60_000;
const dayMs = 24 * 60 * minuteMs;

export interface WatchedHive {
  readonly name: string;
  readonly place: SitePlace;
  readonly series: NucSeries;
  readonly visits: readonly KnownEvent[];
  /** From then on the colony fails: what is told of it is right. */
  readonly failsFromMs?: number;
  readonly framesOfBees?: number;
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
}

/** First reading of each span of `everyMs`. */
export function thinned({ atMs, value }: Series, everyMs: number): Series {
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

/** Any temperature of the hive's own, else its scale. */
const mainOf = ({ broodC, weightG }: NucSeries): Series => {
  const main = broodC ?? weightG;
  if (!main) throw new Error('a watched hive needs a brood probe or a scale');
  return main;
};

function prepared(hive: WatchedHive, { everyMs, withoutOutside, withoutWeight }: WatchOptions): NucSeries {
  const thin = (series: Series): Series => (everyMs ? thinned(series, everyMs) : series);
  const { broodC, outsideC, weightG } = hive.series;
  return {
    ...(broodC ? { broodC: thin(broodC) } : {}),
    ...(outsideC && !withoutOutside ? { outsideC } : {}),
    ...(weightG && !(withoutWeight && broodC) ? { weightG: thin(weightG) } : {}),
  };
}

/** A hive with what the signals said at every instant of the grid: the rules may go over it again and again. */
export interface Watched {
  readonly hive: WatchedHive;
  readonly series: NucSeries;
  readonly fromMs: number;
  readonly toMs: number;
  readonly stepMs: number;
  readonly signals: ReadonlyMap<number, NucSignals>;
}

export function watch(hive: WatchedHive, options: WatchOptions): Watched {
  const series = prepared(hive, options);
  const { stepMs } = options;
  const { atMs } = mainOf(series);
  const fromMs = Math.ceil(((atMs[0] ?? 0) + dayMs) / stepMs) * stepMs;
  const toMs = atMs.at(-1) ?? 0;
  const cache = newAnalysisCache();
  const signals = new Map<number, NucSignals>();
  for (let nowMs = fromMs, lastMs = -Infinity; nowMs <= toMs; nowMs += stepMs) {
    const events = hive.visits.filter((visit) => visit.atMs <= nowMs);
    const { place, framesOfBees } = hive;
    const bees = framesOfBees === undefined ? {} : { framesOfBees };
    const input = { series, place, events, ...bees, broodRegime: () => 'sealed-brood' as const };
    const { broodDays, ...others } = analyseNuc({ ...input, changedFromMs: lastMs }, nowMs, cache);
    // What no rule looks at is not kept.
    signals.set(nowMs, { ...others, broodDays: broodDays.slice(-14), daily: [] });
    lastMs = nowMs;
  }
  return { hive, series, fromMs, toMs, stepMs, signals };
}

export const monthsOf = ({ fromMs, toMs }: Pick<Watched, 'fromMs' | 'toMs'>): number =>
  (toMs - fromMs) / (30.44 * dayMs);

const nucRules = rules.filter((rule) => rule.on === 'nuc');

/** *Now* and *today* about the nuc itself: brood, queen, robbing, swarm, disturbance, stores. */
export function alertsOf(watched: Watched, log: Log, limits: LimitSettings = noLimitSettings): Raising[] {
  const { hive, fromMs, toMs, stepMs, signals } = watched;
  const { timeZone } = hive.place;
  const introduction: NucInput['introduction'] = log === 'plain' ? null : stage({ stage: 'caged' });
  const { raisings } = replay({
    fromMs,
    toMs,
    stepMs,
    limits,
    rules: nucRules,
    inputsAt: (nowMs) => {
      const known = signals.get(Math.floor(nowMs / stepMs) * stepMs);
      if (!known) return [];
      const lastVisitAtMs = hive.visits.findLast(({ atMs }) => atMs <= nowMs)?.atMs ?? null;
      return [nucInput({ nowMs, introduction, signals: known, lastVisitAtMs, timeZone })];
    },
  });
  return raisings.filter(({ urgency }) => urgency === 'now' || urgency === 'today');
}

/** Alarms of a fixed limit: under 32 °C for half an hour, over when it was back for as long. */
export function fixedLimitAlarms({ series: { broodC }, fromMs, toMs }: Watched): number {
  if (!broodC) return 0;
  let alarms = 0;
  let raised = false;
  let sinceMs: number | null = null;
  for (let i = 0; i < broodC.atMs.length; i++) {
    const at = broodC.atMs[i] as number;
    if (at < fromMs || at > toMs) continue;
    const cold = (broodC.value[i] as number) < 32;
    if (cold === raised) sinceMs = null;
    else if (at - (sinceMs ??= at) >= 30 * minuteMs) {
      raised = cold;
      if (raised) alarms += 1;
      sinceMs = null;
    }
  }
  return alarms;
}
