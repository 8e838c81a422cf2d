/** Which fact a step of the plan asks for. */
import type { FactKind } from '../api/facts.ts';
import { forms } from './forms.ts';

/** Steps are named by the plan; a step with a fact's own name asks for that fact. */
const byStep: readonly (readonly [RegExp, FactKind])[] = [
  [/split/, 'split-made'],
  [/mov/, 'moved'],
  [/arriv|deliver/, 'queen-arrived'],
  [/cage|hang/, 'cage-hung'],
  [/open|release|candy/, 'candy-opened'],
  [/cut|cell/, 'cells-cut'],
  [/test-frame-(out|taken)/, 'brood-frame-taken'],
  [/test-frame/, 'brood-frame-added'],
  [/sealed|egg|queen|check|look/, 'looked-for-queen'],
  [/feed/, 'fed'],
];

export function factForStep(stepKind: string): FactKind {
  if (stepKind in forms) return stepKind as FactKind;
  return byStep.find(([pattern]) => pattern.test(stepKind))?.[1] ?? 'inspection';
}

/** The gate that speaks about this fact. */
export function gateForFact(
  kind: FactKind,
): 'cut-cells' | 'hang-cage' | 'open-candy' | 'look-for-queen' | undefined {
  switch (kind) {
    case 'cells-cut':
      return 'cut-cells';
    case 'cage-hung':
      return 'hang-cage';
    case 'candy-opened':
      return 'open-candy';
    case 'looked-for-queen':
    case 'inspection':
      return 'look-for-queen';
    default:
      return undefined;
  }
}
