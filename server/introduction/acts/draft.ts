/** The kinds of acts, and an act in its place. */
import type { Sentence } from '../../words/phrase.ts';
import type { StepWindow } from './days/plan-windows.ts';

export const actKinds = [
  'split',
  'queen-arrives',
  'find-old-queen',
  'look-through',
  'early-cut',
  'cut-cells',
  'hang-cage',
  'second-look',
  'one-more-look',
  'test-frame-in',
  'test-frame-out',
  'take-queen-out',
  'watch-cage',
  'take-cage-out',
  'add-bees',
  'give-brood',
  'open-candy',
  'close-candy',
  'free-queen',
  'look-for-queen',
  'look-again',
  'cut-after-release',
  'check-sealed-brood',
  'graft',
  'unite',
  'call-inspector',
] as const;
export type ActKind = (typeof actKinds)[number];

/** An act in its place: when, and why. */
export interface Draft extends StepWindow {
  readonly why: readonly Sentence[];
  readonly done?: { readonly atMs: number; readonly factId: string } | undefined;
  /** It may be done, and nothing waits for it. */
  readonly offered?: boolean;
  /** Nobody knows the day on which she comes: so many days after it. Its window is that of a queen who comes today. */
  readonly afterArrivalDays?: number;
}

/** Why another act asks for this one: words of its condition, and from when on it may be done. */
export interface Asked {
  readonly because: Sentence;
  readonly fromMs: number;
  /** Since when it is wanted; absent where nobody can date that. */
  readonly sinceMs?: number;
}
