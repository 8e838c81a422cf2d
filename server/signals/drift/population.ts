/** Adults in the nuc: the frames at the split less what the drift took. */
import { countedFramesError } from '../../biology/scale-figures.ts';
import { level90, z90 } from '../statistics/intervals.ts';
import { say } from '../../words/phrase.ts';
import { projectNuc } from '../../biology/nuc-population.ts';
import { beesPerFrame } from '../../biology/thermal-figures.ts';
import type { AnalysisInput } from '../input.ts';
import type { Estimate, PopulationNow } from '../types.ts';

/** Adults by the frames at the split, which only become fewer before new bees emerge. */
export const beesAtMost = ({ framesOfBees }: AnalysisInput): number | undefined =>
  framesOfBees === undefined ? undefined : framesOfBees * beesPerFrame.value;

/** Method: days from the move on for which emerging bees are counted: beyond them nothing is known of her own. */
const emergingDays = 60;

/** The most bees that the box can hold so many days after the move, with all that has emerged; undefined where the split was not counted. */
export function mostBees(input: AnalysisInput, lost: Estimate): ((day: number) => number) | undefined {
  const { framesOfBees, framesOfBrood } = input;
  if (framesOfBees === undefined || framesOfBrood === undefined) return undefined;
  const { days } = projectNuc(
    {
      ...{ framesOfBees, framesOfSealedBrood: framesOfBrood.sealed, framesOfOpenBrood: framesOfBrood.open },
      ...(lost.ok && { foragersGone: { bees: lost.value, low: lost.low, high: lost.high } }),
    },
    emergingDays,
  );
  return (day) => days[Math.min(emergingDays, Math.max(0, Math.floor(day)))]?.high as number;
}

export function population(input: AnalysisInput, lost: Estimate): PopulationNow {
  const { framesOfBees } = input;
  if (framesOfBees === undefined)
    return { bees: { ok: false, why: 'the frames of bees at the split are not entered' } };
  if (!lost.ok) return { bees: { ok: false, why: say`the drift is not known: ${lost.why}` } };
  const start = framesOfBees * beesPerFrame.value;
  const half = z90 * Math.hypot(countedFramesError.value * start, (lost.high - lost.low) / (2 * z90));
  const value = Math.max(0, start - lost.value);
  return {
    bees: {
      ok: true,
      value,
      low: Math.max(0, value - half),
      high: value + half,
      level: level90,
      restsOn: [
        `${String(framesOfBees)} frames of bees at the split`,
        'less those that flew home; emerging bees are not counted',
      ],
    },
  };
}
