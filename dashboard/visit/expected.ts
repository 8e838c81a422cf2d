/** Which fact a step of the plan asks for, and which gate answers for a fact. Pure. */
import type { FactKind, IntroductionMethod } from '../api/facts.ts';
import { forms } from './forms/index.ts';
import type { RememberedNuc } from './remembered-nucs.ts';

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

/** What is due in a nuc now: the acts of one visit. */
export const dueActs = ({ due, step }: Pick<RememberedNuc, 'due' | 'step'>): readonly FactKind[] => {
  const steps = due ?? (step && (step.state === 'due' || step.state === 'overdue') ? [step] : []);
  const acts = new Set(steps.map(factForStep));
  // She is in hand before her cage is hung.
  return acts.delete('queen-arrived') ? ['queen-arrived', ...acts] : [...acts];
};

export interface DueGroup {
  readonly siteName: string;
  readonly acts: readonly FactKind[];
  /** As the plan calls it. */
  readonly label: string;
  readonly overdue: boolean;
  readonly nucs: readonly RememberedNuc[];
}

/** Nucs of a site and method in which the same is due: one entry can be for all of them. What is overdue comes first. */
export function dueGroups(all: readonly RememberedNuc[]): readonly DueGroup[] {
  const groups = new Map<string, DueGroup>();
  for (const one of all) {
    const acts = dueActs(one);
    if (acts.length === 0 || one.introductionId === null) continue;
    const key = JSON.stringify([one.siteId, one.setup?.method, acts]);
    const before = groups.get(key);
    const steps = one.due ?? (one.step ? [one.step] : []);
    groups.set(key, {
      siteName: one.siteName,
      acts,
      label: before?.label ?? [...new Set(steps.map(({ label }) => label))].join(', '),
      overdue: (before?.overdue ?? false) || steps.some(({ state }) => state === 'overdue'),
      nucs: [...(before?.nucs ?? []), one],
    });
  }
  return [...groups.values()].sort((a, b) => Number(b.overdue) - Number(a.overdue));
}

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
