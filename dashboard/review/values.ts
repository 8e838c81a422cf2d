/** A batch's values for drawing: in the reader's units, in runs without a gap. Pure. */
import type { BatchReview } from '../../server/contract/review.ts';
import type { Display } from '../format/units.ts';
import { fixed, toShown } from '../format/units.ts';

/** Spreads and differences have no zero to shift: 1 °C of spread is 1.8 °F. */
export function shownValue(
  value: number,
  review: Pick<BatchReview, 'unit'>,
  spread: boolean,
  how: Display,
): number {
  const shown = toShown(value, review.unit, how);
  return spread ? shown - toShown(0, review.unit, how) : shown;
}

export function bandRuns(band: BatchReview['band']): readonly number[][] {
  const runs: number[][] = [];
  band.forEach((one, i) => {
    if (one === null) return;
    if (i > 0 && band[i - 1] !== null && runs.length > 0) runs.at(-1)?.push(i);
    else runs.push([i]);
  });
  return runs;
}

export function lineRuns(
  values: readonly (number | null)[],
): readonly (readonly (readonly [number, number])[])[] {
  const runs: [number, number][][] = [];
  values.forEach((value, i) => {
    if (value === null) return;
    if (i > 0 && values[i - 1] !== null && runs.length > 0) runs.at(-1)?.push([i, value]);
    else runs.push([[i, value]]);
  });
  return runs;
}

/** Lowest, middle and highest of what is drawn, with as many decimals as tell them apart; one where all is the same. */
export function levelsOf(
  low: number,
  high: number,
): readonly { readonly value: number; readonly words: string }[] {
  const values = low === high ? [low] : [low, (low + high) / 2, high];
  const digits = low < high && high - low < 1 ? 2 : 1;
  return values.map((value) => ({ value, words: fixed(value, digits) }));
}
