/** Which fact a step of the plan asks for. */
import type { FactKind } from '../api/facts.ts';

/** The plan's own kinds of step; one that is not known here is a look into the box. */
const byStep: Readonly<Record<string, FactKind>> = {
  split: 'split-made',
  'queen-arrives': 'queen-arrived',
  'cut-cells': 'cells-cut',
  'hang-cage': 'cage-hung',
  'second-look': 'cells-cut',
  'one-more-look': 'cells-cut',
  'test-frame-in': 'brood-frame-added',
  'test-frame-out': 'brood-frame-taken',
  'open-candy': 'candy-opened',
  'look-for-queen': 'looked-for-queen',
  'look-again': 'looked-for-queen',
  'check-sealed-brood': 'looked-for-queen',
};

export const factForStep = (stepKind: string): FactKind => byStep[stepKind] ?? 'inspection';

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
