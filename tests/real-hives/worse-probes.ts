/** The open series as a worse probe, or a worse link, would have sent them: seeded, so that a run is the same again. */
import type { Series } from '../../server/signals/types.ts';
import { lagged, valueAt } from '../../server/signals/bins.ts';
import { rngFor } from '../../simulator/random.ts';
import type { WatchedHive } from './watched-hive.ts';

const hourMs = 3_600_000;

export interface WorseProbe {
  readonly name: string;
  readonly of: (hive: WatchedHive) => WatchedHive;
}

const withBrood =
  (change: (brood: Series, hive: WatchedHive) => Series) =>
  (hive: WatchedHive): WatchedHive => {
    const { broodC } = hive.series;
    return broodC ? { ...hive, series: { ...hive.series, broodC: change(broodC, hive) } } : hive;
  };

const offBy = (k: number) =>
  withBrood(({ atMs, value }) => ({ atMs, value: value.map((tempC) => tempC + k) }));

const noisy = (sdK: number) =>
  withBrood(({ atMs, value }, { name }) => {
    const rng = rngFor(1, `noise ${name}`);
    return { atMs, value: value.map((tempC) => tempC + sdK * rng.normal()) };
  });

/** Nearer to the edge of the brood: so much of what it reads is the air outside, half an hour behind. */
const atTheEdge = (share: number) =>
  withBrood(({ atMs, value }, { series: { outsideC } }) => {
    const air = outsideC && lagged(outsideC, hourMs / 2);
    const airC = (i: number): number => (air ? valueAt(air, atMs[i] as number, 3 * hourMs) : NaN);
    return {
      atMs,
      value: value.map((tempC, i) => (Number.isNaN(airC(i)) ? tempC : tempC + share * (airC(i) - tempC))),
    };
  });

/** Each span of three hours is lost by this chance. */
const outages = (chance: number) =>
  withBrood(({ atMs, value }, { name }) => {
    const rng = rngFor(1, `outages ${name}`);
    const lost = new Map<number, boolean>();
    const isLost = (at: number): boolean => {
      const span = Math.floor(at / (3 * hourMs));
      if (!lost.has(span)) lost.set(span, rng.chance(chance));
      return lost.get(span) === true;
    };
    const kept = [...atMs.keys()].filter((i) => !isLost(atMs[i] as number));
    return {
      atMs: Float64Array.from(kept, (i) => atMs[i] as number),
      value: Float64Array.from(kept, (i) => value[i] as number),
    };
  });

export const worseProbes: readonly WorseProbe[] = [
  { name: 'reads 1 K too low', of: offBy(-1) },
  { name: 'reads 1 K too high', of: offBy(1) },
  { name: 'noise of 0.3 K', of: noisy(0.3) },
  { name: 'a quarter of all spans of 3 h lost', of: outages(0.25) },
  { name: 'at the edge: a tenth of the air outside', of: atTheEdge(0.1) },
  { name: 'at the edge: a fifth', of: atTheEdge(0.2) },
];
