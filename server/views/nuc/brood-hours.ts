/** Brood temperature by hour, whichever probes stood on the brood frame: what a rail draws. */
import type { Hive } from '../../store/places/hives.ts';
import type { Store } from '../../store/store.ts';
import type { HourOfBrood } from './rail.ts';
import { rounded } from '../rounded.ts';

export function broodHours(store: Store, nuc: Hive, fromMs: number, toMs: number): HourOfBrood[] {
  return store.places.stretches({ hiveId: nuc.id }, 'brood', fromMs, toMs).flatMap((stretch) => {
    const { atMs, min, mean, max } = store.readings.query({ ...stretch, resolution: 'hour' });
    return Array.from(atMs, (at, i) => ({
      atMs: at,
      low: rounded(min[i] ?? NaN, 2),
      mean: rounded(mean[i] ?? NaN, 2),
      high: rounded(max[i] ?? NaN, 2),
    }));
  });
}
