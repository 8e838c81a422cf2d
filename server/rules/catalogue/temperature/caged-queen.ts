/** A queen in a cage: is there one, and how warm is it beside her? */
import { queenColdC } from '../../../biology/figures.ts';
import type { NucInput } from '../../engine/inputs.ts';
import { notApplicable } from '../../engine/rule.ts';
import { isUnderWay } from '../introduction-stage.ts';
import { judgeDose, type ThermalLimits } from './thermal-finding.ts';
import type { Evaluation } from '../../engine/types.ts';

/** Where the limits come from. */
export const queenSafe = `${queenColdC.source}: ${queenColdC.note ?? ''}`;

export function judgeCage(
  { introduction, signals, nowMs }: NucInput,
  direction: 'cold' | 'heat',
  limits: ThermalLimits,
  words: Parameters<typeof judgeDose>[4],
): Evaluation {
  if (!isUnderWay(introduction) || introduction.queenCagedSinceMs === null)
    return notApplicable('no queen is caged in this nuc');
  const dose = signals?.doses.find((d) => d.what === 'caged-queen' && d.direction === direction);
  return judgeDose(dose, 'cage', limits, nowMs, words);
}
