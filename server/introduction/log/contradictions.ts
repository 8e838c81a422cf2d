/** What in the log does not go together, each explained with the facts that it comes from. */
import type { EffectiveFact } from './effective-facts.ts';
import { deathsOnce, dies } from './deaths.ts';
import type { CellLook } from './looks.ts';

export interface Contradiction {
  readonly kind:
    | 'brood-too-young'
    | 'brood-since-the-split'
    | 'young-larva-in-late-cell'
    | 'opened-without-cage'
    | 'empty-cage-before-opening'
    | 'queen-after-death'
    | 'two-queens-in-cages';
  readonly atMs: number;
  readonly factIds: readonly string[];
  readonly text: string;
}

const found = (kind: Contradiction['kind'], text: string, ...facts: EffectiveFact[]): Contradiction => ({
  kind,
  text,
  atMs: Math.max(...facts.map((f) => f.atMs)),
  factIds: facts.map((f) => f.id),
});

/** An open cell with a young larva at a date when nothing rearable can be left. */
export const youngLarvaInLateCell = (look: Pick<CellLook, 'atMs' | 'factId'>): Contradiction => ({
  kind: 'young-larva-in-late-cell',
  atMs: look.atMs,
  factIds: [look.factId],
  text: 'an open queen cell held a young larva, and none that young can be left. Eggs came from somewhere, or a fact in the log is wrong',
});

const leavesCage = (event: EffectiveFact): boolean =>
  dies(event) || ['cage-taken-out', 'queen-escaped', 'balled'].includes(event.fact.kind);

/** Contradictions among what was done with the queen. */
export function queenContradictions(facts: readonly EffectiveFact[]): readonly Contradiction[] {
  const contradictions: Contradiction[] = [];
  /** The cage that hangs with her in it, as far as the log tells. */
  let hung: { readonly event: EffectiveFact; readonly queenId: string } | null = null;
  /** Another cage that hangs beside it. */
  let beside = false;
  let dead: EffectiveFact | null = null;
  let opened = false;
  const note = (kind: Contradiction['kind'], text: string, ...of: EffectiveFact[]): void => {
    contradictions.push(found(kind, text, ...of));
  };
  for (const event of deathsOnce(facts)) {
    const { fact } = event;
    if (fact.kind === 'cage-hung') {
      const { queenId, candyEnd } = fact;
      if (hung && !opened && hung.queenId !== queenId) {
        beside = true;
        note(
          'two-queens-in-cages',
          'a second queen was hung while the first was still in her cage',
          hung.event,
          event,
        );
      }
      hung = { event, queenId };
      dead = null;
      opened = candyEnd === 'open';
    } else if (leavesCage(event)) {
      if (beside) {
        // One of the two is left.
        const settled = contradictions.findLastIndex(({ kind }) => kind === 'two-queens-in-cages');
        contradictions.splice(settled, 1);
        beside = false;
        continue;
      }
      hung = null;
      if (dies(event)) dead = event;
      // One that escapes after it is another queen.
      else if (fact.kind === 'queen-escaped') dead = null;
    } else if (fact.kind === 'candy-opened') {
      if (!hung) note('opened-without-cage', 'candy was opened, but no cage is logged as hung', event);
      opened = true;
    } else if (fact.kind === 'looked-for-queen') {
      if (fact.queenSeen && dead)
        note('queen-after-death', 'a queen was seen after she was logged as dead', dead, event);
      if (fact.cageEmpty && hung && !opened)
        note(
          'empty-cage-before-opening',
          'the cage was empty although she was never let out',
          hung.event,
          event,
        );
    }
  }
  return contradictions;
}
