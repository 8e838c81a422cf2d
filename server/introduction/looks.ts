/** Looks for queen cells: which were complete, what they found, what they left standing. */
import { msPerHour } from '../biology/duration.ts';
import { lastOf, type EffectiveFact } from './effective-facts.ts';
import type { CellCounts, YoungestBrood } from './facts.ts';

/** Facts within one visit belong together. */
export const oneVisit = 6 * msPerHour;

export interface CellLook {
  readonly atMs: number;
  readonly factId: string;
  readonly cells: CellCounts;
  /** Every frame, bees shaken off: only such a look says that what it did not find is not there. */
  readonly complete: boolean;
  /** Whether the cells found were destroyed there and then. */
  readonly cut: boolean;
  readonly youngestBrood: YoungestBrood;
  readonly youngLarvaInOpenCell: boolean;
  readonly virginSeen: boolean;
}

/** Open and sealed cells: those with something alive in them. */
export const livingCells = (look: CellLook): number => look.cells.open + look.cells.sealed;

/** After it no cell stands, as far as the look can tell: complete, and what it found was cut. */
export const leavesNoCell = (look: CellLook): boolean =>
  look.complete && (look.cut || livingCells(look) === 0);

/** A look for the queen sees cells by the way, cuts none, and says nothing where it sees none. */
const glance: Omit<CellLook, 'atMs' | 'factId' | 'cells'> = {
  complete: false,
  cut: false,
  youngestBrood: 'not-looked',
  youngLarvaInOpenCell: false,
  virginSeen: false,
};

export function cellLooks(facts: readonly EffectiveFact[]): readonly CellLook[] {
  const looks: CellLook[] = [];
  for (const { id, atMs, fact } of facts) {
    if (fact.kind === 'looked-for-queen') looks.push({ ...glance, atMs, factId: id, cells: fact.cells });
    if (fact.kind !== 'inspection' && fact.kind !== 'cells-cut') continue;
    looks.push({
      atMs,
      factId: id,
      cells: fact.cells,
      complete: fact.everyFrameChecked && fact.beesShakenOff,
      cut: fact.kind === 'cells-cut',
      youngestBrood: fact.youngestBrood,
      youngLarvaInOpenCell: fact.kind === 'cells-cut' && fact.youngLarvaInOpenCell,
      virginSeen: fact.virginSeen,
    });
  }
  return looks;
}

/** The last look that saw living cells and left them, if no complete cut came after it. */
export function cellsLeftStanding(looks: readonly CellLook[]): CellLook | undefined {
  const last = lastOf(looks.filter((look) => !look.cut && livingCells(look) > 0));
  const cutSince =
    last && looks.some((look) => look.atMs >= last.atMs && look !== last && leavesNoCell(look));
  return cutSince ? undefined : last;
}
