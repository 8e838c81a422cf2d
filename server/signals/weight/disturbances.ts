/** Stretches in which a scale was disturbed: last steady reading before, first steady one after. */
import { disturbanceG, openedG, scaleNoiseG, visitGapMinutes } from '../../biology/scale-figures.ts';
import { minuteMs } from '../series.ts';
import { medianOfWindow, median, runningMedians, madToSd } from '../statistics/robust.ts';
import { leastOnASide } from './step-size.ts';
import type { Series } from '../types.ts';

export interface Disturbance {
  readonly fromMs: number;
  readonly toMs: number;
}

/** Method: intervals of the sensor that may lie between two readings. */
const gapIntervals = 3.5;
/** Method: jumps and widths beyond so many standard deviations are sure. */
const sureSd = 5;
/** Method: readings by which a disturbance may grow on a side. */
const mostGrown = 6;
/** Method: readings that make a level beside it. */
const beside = 8;

/** Jumps nearer to each other than this are one visit; a shower before it is not part of it. */
const joinedMs = (interval: number): number =>
  Math.max(visitGapMinutes.value * minuteMs, gapIntervals * interval);

/** Method: readings on a side of a boundary: of so many minutes, and no more than so many. */
const window = { minutes: 12, most: 12 };

/** Boundaries where the medians of the readings on both sides differ by more than noise, joined to disturbances. */
export function findDisturbances(weight: Series, interval: number): Disturbance[] {
  const n = weight.value.length;
  const k = Math.min(window.most, Math.max(2, Math.round((window.minutes * minuteMs) / interval)));
  const noise = differenceNoise(weight);
  const limit = Math.max(disturbanceG.value, sureSd * noise * Math.sqrt(2 / k));
  const joinMs = joinedMs(interval);
  const jumps = jumpSizes(weight, k);
  const found: { from: number; to: number }[] = [];
  for (let i = k; i <= n - k; i++) {
    if ((jumps[i] as number) < limit) continue;
    // The steepest place of this stretch.
    let best = i;
    for (; i <= n - k && (jumps[i] as number) >= limit; i++)
      if ((jumps[i] as number) > (jumps[best] as number)) best = i;
    const last = found.at(-1);
    if (last && (weight.atMs[best - 1] as number) - (weight.atMs[last.to] as number) < joinMs) last.to = best;
    else found.push({ from: best - 1, to: best });
  }
  for (const single of loneExcursions(weight, k, limit)) insert(found, single, weight, joinMs);
  return merged(found.map((d) => widened(weight, d, noise))).map(({ from, to }) => ({
    fromMs: weight.atMs[from] as number,
    toMs: weight.atMs[to] as number,
  }));
}

/** Disturbances that leave each other no level in between are one: alone, neither of them could be sized. */
function merged(found: readonly { from: number; to: number }[]): { from: number; to: number }[] {
  const all: { from: number; to: number }[] = [];
  for (const one of [...found].sort((a, b) => a.from - b.from)) {
    const last = all.at(-1);
    if (last && one.from - last.to + 1 < leastOnASide) last.to = Math.max(last.to, one.to);
    else all.push({ ...one });
  }
  return all;
}

/** Difference of the medians of the `k` readings on both sides of each boundary. */
function jumpSizes(weight: Series, k: number): Float64Array {
  const n = weight.value.length;
  const jumps = new Float64Array(n + 1);
  const medians = runningMedians(weight.value, k);
  for (let i = k; i <= n - k; i++) jumps[i] = Math.abs((medians[i] as number) - (medians[i - k] as number));
  return jumps;
}

/** A box opened between two of a slow sensor's readings shows in one or two of them alone. */
const loneG = openedG.value;

function loneExcursions(weight: Series, k: number, limit: number): { from: number; to: number }[] {
  const n = weight.value.length;
  const found: { from: number; to: number }[] = [];
  const scratch = new Float64Array(2 * k + 1);
  for (let i = k; i < n - k; i++) {
    const v = weight.value[i] as number;
    // Most readings are near their neighbours: the window's median is only worked out for those that are not.
    if (
      Math.abs(v - (weight.value[i - 1] as number)) < loneG &&
      Math.abs(v - (weight.value[i + 1] as number)) < loneG
    )
      continue;
    const middle = medianOfWindow(weight.value, i - k, i + k + 1, scratch);
    if (Math.abs(v - middle) > Math.max(loneG, limit)) found.push({ from: i - 1, to: i + 1 });
  }
  return found;
}

function insert(
  found: { from: number; to: number }[],
  one: { from: number; to: number },
  weight: Series,
  joinMs: number,
): void {
  const at = (i: number): number => weight.atMs[i] as number;
  const near = found.find((d) => at(one.from) - at(d.to) < joinMs && at(d.from) - at(one.to) < joinMs);
  if (near) {
    near.from = Math.min(near.from, one.from);
    near.to = Math.max(near.to, one.to);
    return;
  }
  const next = found.findIndex((d) => d.from > one.to);
  found.splice(next < 0 ? found.length : next, 0, { from: one.from, to: one.to });
}

/** Takes in readings at the edges that belong to neither side's level. */
function widened(
  weight: Series,
  d: { from: number; to: number },
  noise: number,
): { from: number; to: number } {
  let { from, to } = d;
  const n = weight.value.length;
  const far = sureSd * Math.max(noise, scaleNoiseG.value);
  const middle = (a: number, b: number): number =>
    median(weight.value.subarray(Math.max(0, a), Math.min(n, b)));
  for (let step = 0; step < mostGrown && from > 2; step++) {
    if (Math.abs((weight.value[from] as number) - middle(from - beside, from)) <= far) break;
    from -= 1;
  }
  for (let step = 0; step < mostGrown && to + 2 < n - 1; step++) {
    if (Math.abs((weight.value[to] as number) - middle(to + 1, to + 1 + beside)) <= far) break;
    to += 1;
  }
  return { from, to };
}

/** Noise of a single reading from the differences of neighbours, which steps and slopes hardly touch. */
function differenceNoise(weight: Series): number {
  const n = weight.value.length;
  if (n < 2) return 0;
  const differences = new Float64Array(n - 1);
  for (let i = 1; i < n; i++)
    differences[i - 1] = Math.abs((weight.value[i] as number) - (weight.value[i - 1] as number));
  return (madToSd * median(differences)) / Math.SQRT2;
}
