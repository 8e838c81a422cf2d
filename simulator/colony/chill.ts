/** Reads the chill intervals off the true temperatures. */
import { chillLimitC, probeErrorK } from '../constants.ts';
import { minuteMs } from '../place.ts';
import type { ChillInterval, Truth } from './truth.ts';

/** Fewer cells than this are no brood nest. */
const leastBroodCells = 50;
const mostPassedKh = 12;

const hasBroodIn =
  (truth: Truth) =>
  (i: number): boolean =>
    (truth.openBrood[i] ?? 0) + (truth.sealedBrood[i] ?? 0) >= leastBroodCells;

export function chillIntervals(truth: Truth, cageHungMs: number, cageEmptyMs: number): ChillInterval[] {
  const hasQueen = (i: number) => {
    const atMs = truth.startMs + i * minuteMs;
    return atMs >= cageHungMs && atMs < cageEmptyMs;
  };
  return [
    ...under('brood', chillLimitC.brood, truth, truth.broodC, hasBroodIn(truth)),
    ...under('cage', chillLimitC.cage, truth, truth.cageC, hasQueen),
  ].sort((a, b) => a.fromMs - b.fromMs);
}

/** Times at which the brood is under its limit as a probe reads it that is wrong by so much: too cold, or too warm. */
export const readUnder = (truth: Truth, wrong: 'cold' | 'warm'): ChillInterval[] =>
  under(
    'brood',
    chillLimitC.brood + (wrong === 'cold' ? probeErrorK : -probeErrorK),
    truth,
    truth.broodC,
    hasBroodIn(truth),
  );

function under(
  what: ChillInterval['what'],
  limitC: number,
  truth: Truth,
  tempC: Float32Array,
  counts: (i: number) => boolean,
): ChillInterval[] {
  const found: ChillInterval[] = [];
  let from = -1;
  let lowestC = Infinity;
  let degreeHours = 0;
  let passedMs: number[] = [];
  for (let i = 0; i <= truth.minutes; i++) {
    const value = tempC[i] ?? Infinity;
    if (value < limitC && counts(i)) {
      if (from < 0) [from, lowestC, degreeHours, passedMs] = [i, Infinity, 0, []];
      lowestC = Math.min(lowestC, value);
      degreeHours += (limitC - value) / 60;
      while (passedMs.length < Math.min(mostPassedKh, Math.floor(degreeHours)))
        passedMs.push(truth.startMs + i * minuteMs);
    } else if (from >= 0) {
      const [fromMs, toMs] = [truth.startMs + from * minuteMs, truth.startMs + i * minuteMs];
      found.push({ what, limitC, fromMs, toMs, lowestC, degreeHours, passedMs });
      from = -1;
    }
  }
  return found;
}
