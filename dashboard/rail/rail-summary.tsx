/** A rail without words, for many nucs at once: lying in a row, or standing in a column beside the others. */
import type { Rail } from '../../server/contract/nucs.ts';
import type { Extent, Frame } from './frame.ts';
import { evenScale } from './frame.ts';
import { RailShapes } from './rail-shapes.tsx';

interface Brief {
  readonly rail: Rail;
  /** Days of the shared scale, counted from what the rails are aligned on. */
  readonly extent: Extent;
  /** The rail's own day that lies at 0 of the shared scale. */
  readonly zero: number;
  readonly length: number;
  readonly standing: boolean;
}

const lying = { base: 30, above: 24, below: 10, across: 46 };
const upright = { base: 22, above: 18, below: 9, across: 36 };

export function RailSummary({ rail, extent, zero, length, standing }: Brief) {
  const sizes = standing ? upright : lying;
  const scale = evenScale(extent.fromDay, extent.toDay, 8, length - 8);
  const frame: Frame = { standing, at: (day) => scale(day - zero), ...sizes };
  const size = standing ? { width: sizes.across, height: length } : { width: length, height: sizes.across };
  return (
    <svg class="rail brief" {...size} role="img" aria-label={rail.inWords}>
      <RailShapes rail={rail} frame={frame} mark={standing ? 5 : 5.5} />
    </svg>
  );
}
