/** What a nuc's summary is put together from. */
import type { ViewDeps } from '../view-deps.ts';
import type { NucAlert } from '../alerts/alert-reader.ts';
import { broodHours } from './brood-hours.ts';
import type { NucAnalysis } from '../../watch/nuc-analysis.ts';
import { knownNight } from '../../forecast/known.ts';
import { doubtOf } from '../../farm/wire.ts';
import { siteWide } from '../../watch/nuc-series.ts';
import type { LatestOfPlace, SummaryParts } from './nuc-summary.ts';
import { dayMs } from '../../durations.ts';

const longestRailMs = 60 * dayMs;

export function summaryParts(
  deps: ViewDeps,
  analysis: NucAnalysis,
  { nextQueen, alerts }: { readonly nextQueen: string | undefined; readonly alerts: readonly NucAlert[] },
  nowMs: number,
): SummaryParts {
  const { nuc, state } = analysis;
  const day0Ms = state?.day0Ms ?? null;
  const fromMs = Math.max((day0Ms ?? nowMs) - dayMs, nowMs - longestRailMs);
  return {
    analysis,
    queen: queenOf(deps, analysis),
    nextQueen,
    latest: latestOf(deps, analysis, nowMs),
    forecast: knownNight(deps.store.forecasts, analysis.site, nowMs),
    hours: day0Ms === null ? [] : broodHours(deps.store, nuc, fromMs, nowMs + 1),
    alerts,
  };
}

export function queenOf(
  { store }: Pick<ViewDeps, 'store'>,
  { state, setup }: NucAnalysis,
): string | undefined {
  const id = state?.queen.queenId ?? setup?.queenId;
  const queen = id === undefined ? undefined : store.queens.queen(id);
  return queen ? `${queen.line} (${queen.source})` : id;
}

/** The nuc's own sensors first; what it has none of, from the site. */
function latestOf({ store, watch }: ViewDeps, { nuc }: NucAnalysis, nowMs: number): LatestOfPlace[] {
  const standing = [...watch.where(nowMs).ofChannel];
  const own = standing.filter(([, { hive }]) => hive?.id === nuc.id);
  const has = new Set(own.map(([, { assignment }]) => assignment.position));
  const shared = standing.filter(
    ([, { hive, site, assignment }]) =>
      !hive && site.id === nuc.siteId && siteWide.has(assignment.position) && !has.has(assignment.position),
  );
  return [...own, ...shared].flatMap(([id, { assignment }]) => {
    const channel = store.channels.get(id);
    if (!channel?.latest) return [];
    const { value, atMs } = channel.latest;
    const health = watch.healthOf(channel, assignment.position, nowMs);
    const { unit } = channel;
    return [{ place: assignment.position, value, unit, atMs, ...doubtOf(channel.latest), health }];
  });
}
