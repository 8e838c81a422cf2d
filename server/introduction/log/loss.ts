/** How the bees came to be without a queen, where a keeper's own act is logged: a split, or the old queen taken out. */
import { ofKind, type EffectiveFact } from './effective-facts.ts';
import type { FactPayload } from './facts.ts';
import type { IntroductionSetup } from './setup.ts';

export interface Loss {
  readonly atMs: number;
  readonly by: 'split' | 'taken-out';
  /** False where the old queen may have stayed after the split. */
  readonly sure: boolean;
  readonly cellsAlreadyThere: Extract<FactPayload, { kind: 'split-made' }>['cellsAlreadyThere'];
  /** How many of those were taken out, where it was counted. */
  readonly cellsTakenOut: number | null;
}

/** In a colony that is requeened in place the first queen that laid and was taken is the one that it had, old or young. */
export function withReplacedQueen(
  { startingPoint }: Pick<IntroductionSetup, 'startingPoint'>,
  facts: readonly EffectiveFact[],
): readonly EffectiveFact[] {
  if (startingPoint !== 'requeened-in-place' || ofKind(facts, 'split-made').length > 0) return facts;
  const first = ofKind(facts, 'queen-removed').find(({ fact }) => fact.which !== 'virgin');
  return facts.map((event) =>
    event === first ? { ...first, fact: { ...first.fact, which: 'old-queen' as const } } : event,
  );
}

/** The split, or without one the first queen that laid and was taken out; null where nobody knows. */
export function lossOf(facts: readonly EffectiveFact[]): Loss | null {
  const split = ofKind(facts, 'split-made')[0];
  if (split) {
    const { oldQueen, cellsAlreadyThere, cellsTakenOut } = split.fact;
    const sure = oldQueen !== 'not-seen';
    return { atMs: split.atMs, by: 'split', sure, cellsAlreadyThere, cellsTakenOut: cellsTakenOut ?? null };
  }
  const taken = ofKind(facts, 'queen-removed').find(({ fact }) => fact.which === 'old-queen');
  if (!taken) return null;
  const { cellsAlreadyThere = 'not-looked', cellsTakenOut } = taken.fact;
  return {
    atMs: taken.atMs,
    by: 'taken-out',
    sure: true,
    cellsAlreadyThere,
    cellsTakenOut: cellsTakenOut ?? null,
  };
}
