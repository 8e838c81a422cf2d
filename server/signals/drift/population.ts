/** Adults in the nuc: the projection where there is one, else the frames at the split less what the drift took. */
import { countedFramesError, projectedBeesError } from '../../biology/scale-figures.ts';
import { level90, z90 } from '../statistics/intervals.ts';
import { say } from '../../words/phrase.ts';
import { beesPerFrame } from '../../biology/thermal-figures.ts';
import type { AnalysisInput } from '../input.ts';
import type { Estimate, PopulationNow } from '../types.ts';

/** Adults by the projection, or by the frames at the split, which only become fewer before new bees emerge. */
export const beesAtMost = (input: AnalysisInput): number | undefined =>
  input.beesNow ?? (input.framesOfBees === undefined ? undefined : input.framesOfBees * beesPerFrame.value);

export function population(input: AnalysisInput, lost: Estimate): PopulationNow {
  const { framesOfBees, beesNow } = input;
  if (beesNow !== undefined) {
    const half = projectedBeesError.value * beesNow;
    return {
      bees: {
        ok: true,
        value: beesNow,
        low: beesNow - half,
        high: beesNow + half,
        level: level90,
        restsOn: ['the population projection'],
      },
    };
  }
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
