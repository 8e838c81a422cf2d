/** How an introduction began, and which acts that brings with it. */
import { ofKind } from '../log/effective-facts.ts';
import type { CellLook } from '../log/looks.ts';
import { lossOf } from '../log/loss.ts';
import type { IntroductionState } from '../state.ts';

/** A split is made or meant: then there are foragers that fly home, and days counted from it. */
export const beginsWithSplit = ({ setup, split, day0Ms }: IntroductionState): boolean =>
  split !== null ||
  setup.startingPoint === 'planned-split' ||
  (setup.startingPoint === 'own-laying-queen' && day0Ms === null);

/** The old queen of a colony that is requeened in place is still to be found. */
export const oldQueenToBeFound = ({ setup, split, facts }: IntroductionState): boolean =>
  setup.startingPoint === 'requeened-in-place' &&
  split === null &&
  !ofKind(facts, 'queen-removed').some(({ fact }) => fact.which === 'old-queen');

/** A laying queen of one's own: every cell is cut once, on the day on which she is let out. One that was bought instead came caged. */
export const cutOnTheDay = ({ setup, queen }: Pick<IntroductionState, 'setup' | 'queen'>): boolean =>
  setup.startingPoint === 'own-laying-queen' && (queen.origin === null || queen.origin === 'own');

/** Nothing is left to raise a queen from: no cut of day 7, no second look; one look, and a test frame for a virgin. */
export const nothingToCut = ({ hopeless }: IntroductionState): boolean => hopeless;

/** Cells are cut when no larva is young enough for another, and looked for again some days later. */
export const cutTwice = (state: IntroductionState): boolean => !cutOnTheDay(state) && !nothingToCut(state);

const outBefore = (state: IntroductionState, look: CellLook | null): boolean =>
  state.queen.releasedAtMs !== null && cutTwice(state) && (look?.atMs ?? Infinity) > state.queen.releasedAtMs;

/** She was let out, or got out, before a cut that counts. */
export const outBeforeTheCut = (state: IntroductionState): boolean => outBefore(state, state.looks.firstLate);

/**
 * Cells, or larvae for cells, may be left beside the queen when she is out: with a laying queen of one's own always, with
 * another where she was out before the second look, for one look misses cells.
 */
export const cellsMayBeLeft = (state: IntroductionState): boolean =>
  cutOnTheDay(state) || outBefore(state, state.looks.firstSecond);

/** Nobody saw how it began: a look on every frame comes first. */
export const lookFirst = ({ setup, facts }: IntroductionState): boolean =>
  lossOf(facts) === null &&
  (setup.startingPoint === 'queenless-with-cells' || setup.startingPoint === 'hopelessly-queenless');
