/**
 * The readings of one nuc by place, as the signals want them: calibrated, without suspects, masses in grams.
 * What a nuc has no sensor of its own for (outside, rain, humidity) comes from its site.
 */
import type { NucSeries, Series } from '../signals/types.ts';
import type { Hive } from '../store/places/hives.ts';
import type { Position } from '../store/places/assignments.ts';
import type { Store } from '../store/store.ts';

const gramsPerKg = 1000;

export function readNucSeries(store: Store, nuc: Hive, fromMs: number, toMs: number): NucSeries {
  const at = (position: Position): Series | undefined => placeSeries(store, nuc, position, fromMs, toMs);
  const weightG = inGrams(at('scale'));
  const [broodC, cageC, outsideC, rainMm, humidityPct] = (
    ['brood', 'cage', 'outside', 'rain', 'humidity'] as const
  ).map(at);
  return {
    ...(weightG && { weightG }),
    ...(broodC && { broodC }),
    ...(cageC && { cageC }),
    ...(outsideC && { outsideC }),
    ...(rainMm && { rainMm }),
    ...(humidityPct && { humidityPct }),
  };
}

/** Places that one sensor may serve for every nuc of a site. */
export const siteWide: ReadonlySet<Position> = new Set(['outside', 'rain', 'humidity']);

/** The nuc's own sensor at that place, else the site's; undefined where none was ever assigned. */
export function placeSeries(
  store: Store,
  nuc: Hive,
  position: Position,
  fromMs: number,
  toMs: number,
): Series | undefined {
  const own = { hiveId: nuc.id };
  if (store.places.stretches(own, position, fromMs, toMs).length > 0) {
    return store.readings.placeSeries(own, position, fromMs, toMs);
  }
  const shared = { siteId: nuc.siteId };
  if (!siteWide.has(position) || store.places.stretches(shared, position, fromMs, toMs).length === 0)
    return undefined;
  return store.readings.placeSeries(shared, position, fromMs, toMs);
}

function inGrams(series: Series | undefined): Series | undefined {
  return series && { atMs: series.atMs, value: series.value.map((kg) => kg * gramsPerKg) };
}
