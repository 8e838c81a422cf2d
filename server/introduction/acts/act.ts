/** A row of the table of acts: what it says of one act. */
import type { Figure } from '../../biology/figures.ts';
import type { FactKind } from '../log/facts.ts';
import type { Condition } from './condition.ts';
import type { ActKind, Asked, Draft } from './draft.ts';
import type { Situation } from './situation.ts';

/** What is said of an act: its name, what to do and bring, and the fact that logs it. */
export interface ActWords {
  readonly label: string;
  readonly logAs: FactKind;
  readonly whatToDo: string;
  readonly whatToBring: readonly string[];
}

/** The figures that the ends of an act's window rest on; absent where it is counted from a logged fact alone. */
export interface WindowFigures {
  readonly earliest?: Figure;
  readonly best?: Figure;
  readonly latest?: Figure;
}

/** One row of the table of acts. Pure: everything comes from the situation. */
export interface ActRow {
  readonly kind: ActKind;
  /** What its log entry settles, in a few words. */
  readonly settles: string;
  /** Where it makes sense by itself: its window; null elsewhere. */
  readonly draft: (situation: Situation) => Draft | null;
  /** Where another act waits for it. */
  readonly asked?: (situation: Situation, asked: Asked) => Draft;
  /** It may be done while all of them are met. */
  readonly conditions: (situation: Situation) => readonly Condition[];
  readonly words: (situation: Situation) => ActWords;
  readonly figures?: (situation: Situation) => WindowFigures;
}
