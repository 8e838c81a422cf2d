/**
 * What the weight of hives that were left alone does at a place: nectar, stores that dry, sun and rain move them together.
 * Each day takes the median of what the hives gained since the day began, so that one hive alone moves nothing.
 */
import { fewestSettledHives, handledInHourKg, unwatchedHours } from '../biology/scale-figures.ts';
import { effectiveFacts } from '../introduction/log/effective-facts.ts';
import { driftWindowMs } from '../signals/drift/drift-input.ts';
import type { Series } from '../signals/types.ts';
import { median } from '../signals/statistics/robust.ts';
import type { Hive } from '../store/places/hives.ts';
import type { Site } from '../store/places/sites.ts';
import type { Store } from '../store/store.ts';
import { dayMs, hourMs } from '../durations.ts';

/** Setting: more add nothing. */
const mostHives = 12;
/** A split, a move and a feed upset a hive's weight for as long as a drift is looked at. */
const unsettledMs = driftWindowMs;
const upsetting: ReadonlySet<string> = new Set(['split-made', 'moved', 'fed']);

interface SettledHive {
  /** Mean of each hour since `fromMs`, kg; NaN where it is not known, or the hive is not settled. */
  readonly byHour: Float64Array;
}

/** Change of weight, g, at the middle of each hour that is over by `toMs`; undefined where too few hives tell. */
function settledChange(store: Store, site: Site, fromMs: number, toMs: number): Series | undefined {
  // From a day earlier, so that the first day by the sun is whole.
  const startMs = Math.floor((fromMs - dayMs) / hourMs) * hourMs;
  const hours = Math.max(0, Math.floor((toMs - startMs) / hourMs));
  const hives: SettledHive[] = [];
  for (const hive of store.places.listHives()) {
    if (hives.length >= mostHives) break;
    if (hive.siteId !== site.id) continue;
    const upsetMs = upsetsOf(store, hive);
    const settled = (atMs: number): boolean =>
      !upsetMs.some((at) => atMs > at - hourMs && atMs < at + unsettledMs);
    const hourStarts = Array.from({ length: hours }, (_, k) => startMs + k * hourMs);
    if (!hourStarts.some(settled)) continue;
    const means = hourlyMeans(store, hive, startMs, hours);
    if (means) hives.push({ byHour: means.map((kg, k) => (settled(hourStarts[k] as number) ? kg : NaN)) });
  }
  if (hives.length < fewestSettledHives.value) return undefined;
  const dayOfHour = (k: number): number =>
    Math.floor((startMs + k * hourMs + (site.lonDeg / 15) * hourMs) / dayMs);
  return inCommon(hives, startMs, hours, dayOfHour);
}

function inCommon(
  hives: readonly SettledHive[],
  startMs: number,
  hours: number,
  dayOfHour: (k: number) => number,
): Series | undefined {
  const lastKnown = hives.map(() => -1);
  let sinceDawn = hives.map(() => 0);
  let beforeKg = 0;
  const atMs: number[] = [];
  const value: number[] = [];
  for (let k = 0; k < hours; k++) {
    if (k > 0 && dayOfHour(k) !== dayOfHour(k - 1)) {
      beforeKg += median(sinceDawn);
      sinceDawn = hives.map(() => 0);
    }
    const changes = hives.map(({ byHour }, h) => {
      const before = lastKnown[h] as number;
      const now = byHour[k] as number;
      if (Number.isNaN(now)) return NaN;
      lastKnown[h] = k;
      return before < 0 || k - before > unwatchedHours.value ? NaN : now - (byHour[before] as number);
    });
    const known = changes.filter((kg) => !Number.isNaN(kg));
    if (known.length < fewestSettledHives.value) continue;
    const usual = median(known);
    // A hive that does not tell, or was handled, is taken to do as the others.
    sinceDawn = sinceDawn.map((sum, h) => {
      const kg = changes[h] as number;
      return sum + (Math.abs(kg - usual) <= handledInHourKg.value ? kg : usual);
    });
    atMs.push(startMs + (k + 0.5) * hourMs);
    value.push(1000 * (beforeKg + median(sinceDawn)));
  }
  return atMs.length === 0 ? undefined : { atMs: Float64Array.from(atMs), value: Float64Array.from(value) };
}

/** When a hive was split, moved or fed; a colony of which a nuc was split loses bees to it and gets the foragers back. */
function upsetsOf(store: Store, hive: Hive): number[] {
  const of = (id: string): number[] =>
    store.introductions
      .ofNuc(id)
      .flatMap((introduction) =>
        effectiveFacts(introduction.id, store.introductions.log(introduction.id), Infinity),
      )
      .flatMap(({ fact, atMs }) => (upsetting.has(fact.kind) ? [atMs] : []));
  const children = store.places
    .listHives({ retired: true })
    .filter(({ parentHiveId }) => parentHiveId === hive.id);
  const visits = store.hiveVisits
    .ofHive(hive.id)
    .filter(({ kind, withdrawnAtMs }) => withdrawnAtMs === undefined && upsetting.has(kind));
  return [
    ...of(hive.id),
    ...children.flatMap(({ id }) => of(id)),
    ...visits.map(({ happenedAtMs }) => happenedAtMs),
  ];
}

function hourlyMeans(store: Store, hive: Hive, startMs: number, hours: number): Float64Array | undefined {
  const owner = { hiveId: hive.id };
  const toMs = startMs + hours * hourMs;
  const stretches = store.places.stretches(owner, 'scale', startMs, toMs);
  if (stretches.length === 0) return undefined;
  const means = new Float64Array(hours).fill(NaN);
  for (const { channelId, fromMs, toMs: endMs } of stretches) {
    const { atMs, mean } = store.readings.query({ channelId, fromMs, toMs: endMs, resolution: 'hour' });
    atMs.forEach((at, i) => {
      means[Math.round((at - startMs) / hourMs)] = mean[i] as number;
    });
  }
  return means;
}

export type SettledAt = (site: Site, movedAtMs: number, nowMs: number) => Series | undefined;

/** The change since a move, worked out anew with each full hour. */
export function settledByHour(store: Store): SettledAt {
  let last: { readonly key: string; readonly series: Series | undefined } | null = null;
  return (site, movedAtMs, nowMs) => {
    const toMs = Math.floor(Math.min(nowMs, movedAtMs + driftWindowMs) / hourMs) * hourMs;
    const key = [site.id, movedAtMs, toMs].join(' ');
    if (last?.key !== key) last = { key, series: settledChange(store, site, movedAtMs, toMs) };
    return last.series;
  };
}
