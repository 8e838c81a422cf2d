/** Reads the chill intervals off the true temperatures. */
import { chillLimitC } from './constants.ts';
import { minuteMs } from './place.ts';
import type { ChillInterval, Truth } from './truth.ts';

/** Fewer cells than this are no brood nest. */
const leastBroodCells = 50;

export function chillIntervals(truth: Truth, cageHungMs: number, cageEmptyMs: number): ChillInterval[] {
  const hasBrood = (i: number) => (truth.openBrood[i] ?? 0) + (truth.sealedBrood[i] ?? 0) >= leastBroodCells;
  const hasQueen = (i: number) => {
    const atMs = truth.startMs + i * minuteMs;
    return atMs >= cageHungMs && atMs < cageEmptyMs;
  };
  return [
    ...under('brood', truth, truth.broodC, hasBrood),
    ...under('cage', truth, truth.cageC, hasQueen),
  ].sort((a, b) => a.fromMs - b.fromMs);
}

function under(
  what: ChillInterval['what'],
  truth: Truth,
  tempC: Float32Array,
  counts: (i: number) => boolean,
): ChillInterval[] {
  const limitC = chillLimitC[what];
  const found: ChillInterval[] = [];
  let from = -1;
  let lowestC = Infinity;
  let degreeHours = 0;
  for (let i = 0; i <= truth.minutes; i++) {
    const value = tempC[i] ?? Infinity;
    if (value < limitC && counts(i)) {
      if (from < 0) [from, lowestC, degreeHours] = [i, Infinity, 0];
      lowestC = Math.min(lowestC, value);
      degreeHours += (limitC - value) / 60;
    } else if (from >= 0) {
      const [fromMs, toMs] = [truth.startMs + from * minuteMs, truth.startMs + i * minuteMs];
      found.push({ what, limitC, fromMs, toMs, lowestC, degreeHours });
      from = -1;
    }
  }
  return found;
}
