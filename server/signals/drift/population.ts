/** The bees that a nuc holds, and the most that it can. */
import { projectNuc, type BeesOnDay, type NucAtSplit } from '../../biology/nuc-population.ts';
import { beesPerFrame } from '../../biology/thermal-figures.ts';
import type { AnalysisInput } from '../input.ts';

/** Adults by the frames at the split, which only become fewer before new bees emerge. */
export const beesAtMost = ({ framesOfBees }: AnalysisInput): number | undefined =>
  framesOfBees === undefined ? undefined : framesOfBees * beesPerFrame.value;

/** Method: days from the move on for which emerging bees are counted: beyond them nothing is known of her own. */
const emergingDays = 60;

/**
 * Bees in the box so many days after the move, with all that has emerged, and the most and the fewest that there can be;
 * undefined where the split was not counted. `gone`: those that flew home, where the scale tells.
 */
export function beesByDay(
  { framesOfBees, framesOfBrood, noneFlewHome }: AnalysisInput,
  gone: NucAtSplit['foragersGone'],
): ((day: number) => BeesOnDay) | undefined {
  if (framesOfBees === undefined || framesOfBrood === undefined) return undefined;
  const foragersGone = noneFlewHome ? { bees: 0, low: 0, high: 0 } : gone;
  const { days } = projectNuc(
    {
      framesOfBees,
      framesOfSealedBrood: framesOfBrood.sealed,
      framesOfOpenBrood: framesOfBrood.open,
      ...(foragersGone && { foragersGone }),
    },
    emergingDays,
  );
  return (day) => days[Math.min(emergingDays, Math.max(0, Math.floor(day)))] as BeesOnDay;
}
