/**
 * The old foragers of a moved split, one by one: each knows the parent's stand, each leaves on her first
 * flights from the new one, and none comes back.
 */
import type { Rng } from '../random.ts';

export interface OldForagers {
  /** Flight hours that each lives through before she leaves for good, ascending. */
  readonly leavesAfterH: Float64Array;
  /** Mass on leaving, in the same order, g: body and what she carries. */
  readonly massG: Float64Array;
  /** Mass of those not yet gone, summed from the back, one longer than the others. */
  readonly stillHereG: Float64Array;
  gone: number;
}

/**
 * Draws `count` old foragers. Each has her own readiness (log-normal) and leaves after an exponential number
 * of flight hours of mean `meanH` divided by it; her mass varies by 8 % about the colony's.
 */
export function oldForagers(rng: Rng, count: number, meanH: number, bodyG: number): OldForagers {
  const bees = Array.from({ length: count }, () => ({
    afterH: rng.exponential(meanH) / Math.exp(0.35 * rng.normal()),
    // From memory: a departing forager takes a milligram or two of fuel.
    massG: bodyG * Math.max(0.7, 1 + 0.08 * rng.normal()) + 0.0015,
  }));
  bees.sort((a, b) => a.afterH - b.afterH);
  const massG = Float64Array.from(bees, (bee) => bee.massG);
  const stillHereG = new Float64Array(count + 1);
  for (let i = count - 1; i >= 0; i--) stillHereG[i] = (stillHereG[i + 1] ?? 0) + (massG[i] ?? 0);
  return { leavesAfterH: Float64Array.from(bees, (bee) => bee.afterH), massG, stillHereG, gone: 0 };
}

/** Lets all go whose time has come by so many flight hours; returns their number. */
export function leaveBy(bees: OldForagers, flownH: number): number {
  const before = bees.gone;
  while (bees.gone < bees.massG.length && (bees.leavesAfterH[bees.gone] ?? Infinity) <= flownH) bees.gone++;
  return bees.gone - before;
}

/** Takes `count` of those still here away at once (absconding), the next to leave first; returns their mass, g. */
export function takeAway(bees: OldForagers, count: number): number {
  const from = bees.gone;
  bees.gone = Math.min(bees.massG.length, from + count);
  return (bees.stillHereG[from] ?? 0) - (bees.stillHereG[bees.gone] ?? 0);
}

export const stillHere = (bees: OldForagers): number => bees.massG.length - bees.gone;
