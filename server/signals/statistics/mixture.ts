/** Quantiles of a mixture of normals, perhaps cut off below zero. */
import { errorFunction } from 'simple-statistics';

export interface Component {
  readonly weight: number;
  readonly mean: number;
  readonly sd: number;
}

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
  let low = Math.max(floor, Math.min(...parts.map((part) => part.mean - 9 * part.sd)));
  let high = Math.max(low, ...parts.map((part) => part.mean + 9 * part.sd));
  for (let i = 0; i < 45; i++) {
    const middle = (low + high) / 2;
    if (below(middle) < target) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Chance of a value below `x`. */
export const mixtureBelow = (parts: readonly Component[], x: number): number =>
  parts.reduce((sum, part) => sum + part.weight * normalBelow((x - part.mean) / Math.max(part.sd, 1e-9)), 0);
