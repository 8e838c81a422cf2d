/** The most bees that a nuc can hold. */
import { projectNuc } from '../../biology/nuc-population.ts';
import { beesPerFrame } from '../../biology/thermal-figures.ts';
import type { AnalysisInput } from '../input.ts';
import type { Estimate } from '../types.ts';

/** Adults by the frames at the split, which only become fewer before new bees emerge. */
export const beesAtMost = ({ framesOfBees }: AnalysisInput): number | undefined =>
  framesOfBees === undefined ? undefined : framesOfBees * beesPerFrame.value;

/** Method: days from the move on for which emerging bees are counted: beyond them nothing is known of her own. */
const emergingDays = 60;

/**
 * The most bees that the box can hold so many days after the move, with all that has emerged; undefined where the split
 * was not counted.
 */
export function mostBees(input: AnalysisInput, lost: Estimate): ((day: number) => number) | undefined {
  const { framesOfBees, framesOfBrood } = input;
  if (framesOfBees === undefined || framesOfBrood === undefined) return undefined;
  const { days } = projectNuc(
    {
      framesOfBees,
      framesOfSealedBrood: framesOfBrood.sealed,
      framesOfOpenBrood: framesOfBrood.open,
      ...(lost.ok && { foragersGone: { bees: lost.value, low: lost.low, high: lost.high } }),
    },
    emergingDays,
  );
  return (day) => days[Math.min(emergingDays, Math.max(0, Math.floor(day)))]?.high as number;
}
