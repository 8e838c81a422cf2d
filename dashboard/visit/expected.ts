/** Which fact a step of the plan asks for. */
import type { FactKind, IntroductionMethod } from '../api/facts.ts';
import { forms } from './forms.ts';

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

const isKind = (kind: string): kind is FactKind => kind in forms;

/** The server says it; a nuc that was remembered by an older page has only the step's kind. */
export const factForStep = ({ kind, logAs }: { kind: string; logAs?: string | undefined }): FactKind =>
  logAs !== undefined && isKind(logAs) ? logAs : (byStep[kind] ?? 'inspection');

/** The gate that speaks about this fact. */
export function gateForFact(
  kind: FactKind,
  method?: IntroductionMethod,
): 'cut-cells' | 'hang-cage' | 'open-candy' | 'look-for-queen' | undefined {
  switch (kind) {
    case 'cells-cut':
      return 'cut-cells';
    case 'cage-hung':
      return 'hang-cage';
    case 'candy-opened':
      return 'open-candy';
    case 'cage-taken-out':
      return method === 'push-in-cage' ? 'open-candy' : undefined;
    case 'looked-for-queen':
    case 'inspection':
      return 'look-for-queen';
    default:
      return undefined;
  }
}
