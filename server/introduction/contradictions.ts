/** What in the log does not go together, each explained with the facts that it comes from. */
import type { EffectiveFact } from './effective-facts.ts';
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

/** Contradictions among what was done with the queen. */
export function queenContradictions(facts: readonly EffectiveFact[]): readonly Contradiction[] {
  const contradictions: Contradiction[] = [];
  let hung: EffectiveFact | null = null;
  let dead: EffectiveFact | null = null;
  let openedAt: EffectiveFact | null = null;
  for (const event of facts) {
    const { fact } = event;
    if (fact.kind === 'cage-hung') {
      const other = hung?.fact.kind === 'cage-hung' && hung.fact.queenId !== fact.queenId;
      if (hung && other) {
        contradictions.push(
          found(
            'two-queens-in-cages',
            'a second queen was hung while the first was still in her cage',
            hung,
            event,
          ),
        );
      }
      hung = event;
      dead = null;
      if (fact.candyEnd === 'open') openedAt = event;
    } else if (fact.kind === 'candy-opened') {
      if (!hung)
        contradictions.push(
          found('opened-without-cage', 'candy was opened, but no cage is logged as hung', event),
        );
      openedAt = event;
    } else if (fact.kind === 'cage-taken-out') hung = null;
    else if (fact.kind === 'queen-dead') {
      dead = event;
      hung = null;
    } else if (fact.kind === 'looked-for-queen') {
      if (fact.queenSeen && dead) {
        contradictions.push(
          found('queen-after-death', 'a queen was seen after she was logged as dead', dead, event),
        );
      }
      if (fact.cageEmpty && hung && !openedAt) {
        contradictions.push(
          found(
            'empty-cage-before-opening',
            'the cage was empty although she was never let out',
            hung,
            event,
          ),
        );
      }
    }
  }
  return contradictions;
}
