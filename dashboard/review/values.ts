/** A batch's values for drawing: in the reader's units, in runs without a gap. Pure. */
import type { BatchReview } from '../../server/contract/review.ts';
import type { Display } from '../format/units.ts';
import { toShown } from '../format/units.ts';

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
