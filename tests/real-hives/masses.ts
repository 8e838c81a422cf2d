/** Days of real scales with foraging humps, and with a box taken off: neither is bees that left in a mass. */
import { minuteMs } from '../../server/signals/series.ts';
import type { Series } from '../../server/signals/types.ts';
import { rngFor } from '../../simulator/random.ts';
import { sydney } from '../open-data/data.ts';
import { alertsOf, watch } from './watched-hive.ts';

const gridMs = 30 * minuteMs;

/** A box of 4 to 12 kg is taken off by day, and not put back. */
export function boxTaken({ atMs, value }: Series, seed: number): Series {
  const rng = rngFor(seed, 'box');
  const takenMs = (atMs[0] ?? 0) + Math.round((34 + rng.between(0, 8)) * 60) * minuteMs;
  const boxG = rng.between(0.15, 0.35) * (value[0] ?? 0);
  return { atMs, value: value.map((g, i) => ((atMs[i] as number) < takenMs ? g : g - boxG)) };
}

/** How often *left in a mass* is raised on a scale read every so often. */
export function massesOn(weightG: Series, everyMs: number): number {
  const hive = { name: 'scale', place: sydney, series: { weightG }, visits: [] };
  const watched = watch(hive, { stepMs: gridMs, everyMs });
  return alertsOf(watched, 'at-stake').filter(({ ruleId }) => ruleId === 'left-in-a-mass').length;
}
