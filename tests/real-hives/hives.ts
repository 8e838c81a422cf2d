/** The open series as watched hives. */
import { montreal, montrealPlace, sydney, sydneyTemperature, sydneyWeight } from '../open-data/data.ts';
import type { Series } from '../../server/signals/types.ts';
import type { WatchedHive } from './watched-hive.ts';

const dayMs = 86_400_000;

export const sydneyHives = (): WatchedHive[] =>
  ['2016-A', '2020-A', '2020-B', '2020-E', '2020-K'].map((name) => {
    const { hive, outside } = sydneyTemperature(name);
    // 2020-E fails from the late morning of 24 February 2020 (read from the series; no event log).
    const failsFromMs = name === '2020-E' ? { failsFromMs: Date.parse('2020-02-24T11:00:00+11:00') } : {};
    return { name, place: sydney, series: { broodC: hive, outsideC: outside }, visits: [], ...failsFromMs };
  });

export const montrealHives = (): WatchedHive[] =>
  [3627, 3629, 3690, 3691].map((tag) => {
    const { hive, outside, inspections } = montreal(tag);
    return {
      name: String(tag),
      place: montrealPlace,
      series: { broodC: hive, outsideC: outside },
      visits: inspections,
    };
  });

/** Days of real scales, a reading a minute, on which nobody touched the hive. */
export const weightDays = (): { readonly name: string; readonly weightG: Series }[] =>
  [1, 2, 4, 6, 8].map((hive) => ({ name: `scale ${String(hive)}`, weightG: sydneyWeight(hive) }));

/** A day laid end to end `times`, each one where the one before left off. */
export function repeated({ atMs, value }: Series, times: number): Series {
  const n = value.length;
  const gainG = (value[n - 1] ?? 0) - (value[0] ?? 0);
  return {
    atMs: Float64Array.from({ length: n * times }, (_, i) => (atMs[i % n] ?? 0) + Math.floor(i / n) * dayMs),
    value: Float64Array.from(
      { length: n * times },
      (_, i) => (value[i % n] ?? 0) + Math.floor(i / n) * gainG,
    ),
  };
}
