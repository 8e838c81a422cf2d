/** Quantiles of a mixture of normals, perhaps cut off below zero. */
import { errorFunction } from 'simple-statistics';

export interface Component {
  readonly weight: number;
  readonly mean: number;
  readonly sd: number;
}

const rootOfTwoPi = Math.sqrt(2 * Math.PI);

/** Φ(z) by simple-statistics' error function (relative error under 1.2e-7); its table is coarser. */
export const normalBelow = (z: number): number => (1 + errorFunction(z / Math.SQRT2)) / 2;

/** Quantile `p` of the mixture restricted to values above `floor`. */
export function mixtureQuantile(all: readonly Component[], p: number, floor = -Infinity): number {
  // What weighs less than this moves no quantile that is told.
  const parts = all.filter((part) => part.weight > 1e-5);
  const below = (x: number): number =>
    parts.reduce(
      (sum, part) => sum + part.weight * normalBelow((x - part.mean) / Math.max(part.sd, 1e-9)),
      0,
    );
  const cut = floor === -Infinity ? 0 : below(floor);
  // All of the mass is under the floor: the floor is all that can be said.
  if (cut > 1 - 1e-9) return floor;
  const target = cut + p * (1 - cut);
  const low = Math.max(floor, Math.min(...parts.map((part) => part.mean - 9 * part.sd)));
  const high = Math.max(low, ...parts.map((part) => part.mean + 9 * part.sd));
  return whereBelow(parts, target, low, high);
}

/** Where the chance of less reaches `target`: Newton's steps, halved where one would leave what is still possible. */
function whereBelow(parts: readonly Component[], target: number, from: number, to: number): number {
  const enough = 1e-8 * (to - from);
  let low = from;
  let high = to;
  let x = (from + to) / 2;
  for (let i = 0; i < 60 && high - low > enough; i++) {
    let off = -target;
    let density = 0;
    for (const { weight, mean, sd } of parts) {
      const scale = Math.max(sd, 1e-9);
      const z = (x - mean) / scale;
      off += weight * normalBelow(z);
      density += (weight * Math.exp(-0.5 * z * z)) / (scale * rootOfTwoPi);
    }
    if (off < 0) low = x;
    else high = x;
    const next = x - off / density;
    const inside = next > low && next < high;
    const step = inside ? next : (low + high) / 2;
    if (inside && Math.abs(step - x) < enough) return step;
    x = step;
  }
  return x;
}

/** Chance of a value below `x`. */
export const mixtureBelow = (parts: readonly Component[], x: number): number =>
  parts.reduce((sum, part) => sum + part.weight * normalBelow((x - part.mean) / Math.max(part.sd, 1e-9)), 0);
