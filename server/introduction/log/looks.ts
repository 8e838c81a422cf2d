/** Looks for queen cells: which were complete, what they found, what they left standing. */
import {
  combsInNuc,
  eggStageDays,
  highEnd,
  lookAgainForQueenDays,
  lowEnd,
  queenCellSealedDays,
  queenEmergesDays,
  visitHours,
} from '../../biology/figures.ts';
import { developmentMs, msPerHour } from '../../biology/duration.ts';
import { lastOf, ofKind, type EffectiveFact } from './effective-facts.ts';
import { cellCounts, type CellCounts, type FactPayload, type YoungestBrood } from './facts.ts';

/** Facts within one visit belong together. */
export const oneVisit = visitHours.value * msPerHour;

/** What several people write down of one visit is one look. In the order in which they happened. */
export const onceAVisit = <T extends { readonly atMs: number }>(looks: readonly T[]): readonly T[] =>
  looks.filter(({ atMs }, i) => atMs - (looks[i - 1]?.atMs ?? -Infinity) > oneVisit);

/** Instants of looks, with one more where it is another visit. */
export const withLook = (looksMs: readonly number[], atMs: number): readonly number[] =>
  atMs - (lastOf(looksMs) ?? -Infinity) > oneVisit ? [...looksMs, atMs] : looksMs;

export interface CellLook {
  readonly atMs: number;
  readonly factId: string;
  readonly cells: CellCounts;
  /** Every frame, bees shaken off, cells counted: only such a look says that what it did not find is not there. */
  readonly complete: boolean;
  /** By the way, in a look for the queen. */
  readonly glance: boolean;
  readonly counted: boolean;
  readonly everyFrame: boolean;
  readonly shaken: boolean;
  /** Share of the frames that was left out, where it was counted. */
  readonly framesLeftShare: number | null;
  /** Emerged shells, and cells that were torn down, were counted, be it none. */
  readonly shellsCounted: boolean;
  readonly tornDownCounted: boolean;
  /** Whether the cells found were destroyed there and then. */
  readonly cut: boolean;
  readonly youngestBrood: YoungestBrood;
  /** Eggs stand under the mesh that is over her, and nowhere else. */
  readonly eggsAreHers: boolean;
  /** Null where the entry does not say. */
  readonly virginSeen: boolean | null;
}

/** Open and sealed cells: those with something alive in them. */
export const livingCells = (look: CellLook): number => look.cells.open + look.cells.sealed;

/** After it no cell stands, as far as the look can tell: complete, and what it found was cut. */
export const leavesNoCell = (look: CellLook): boolean =>
  look.complete && (look.cut || livingCells(look) === 0);

/** A look for the queen sees cells by the way, and says nothing where it sees none. */
const glance: Omit<CellLook, 'atMs' | 'factId' | 'cells' | 'cut'> = {
  glance: true,
  counted: true,
  everyFrame: false,
  shaken: false,
  framesLeftShare: null,
  complete: false,
  shellsCounted: false,
  tornDownCounted: false,
  youngestBrood: 'not-looked',
  eggsAreHers: false,
  virginSeen: null,
};

type Searched = Extract<FactPayload, { kind: 'inspection' | 'cells-cut' }>;

function framesLeftShare({ framesSkipped }: Searched, facts: readonly EffectiveFact[]): number | null {
  if (framesSkipped === undefined) return null;
  const split = ofKind(facts, 'split-made')[0]?.fact;
  const frames = split
    ? split.framesOfSealedBrood + split.framesOfOpenBrood + split.framesOfStores
    : combsInNuc.value;
  return framesSkipped / Math.max(frames, framesSkipped, 1);
}

function searched(fact: Searched, facts: readonly EffectiveFact[]) {
  const { everyFrameChecked: everyFrame, beesShakenOff: shaken, cells } = fact;
  const counted = cells.open !== undefined || cells.sealed !== undefined;
  return {
    counted,
    everyFrame,
    shaken,
    complete: everyFrame && shaken && counted,
    framesLeftShare: framesLeftShare(fact, facts),
  };
}

export function cellLooks(facts: readonly EffectiveFact[]): readonly CellLook[] {
  const looks: CellLook[] = [];
  for (const { id, atMs, fact } of facts) {
    if (fact.kind === 'looked-for-queen') {
      const cells = cellCounts(fact.cells);
      looks.push({ ...glance, atMs, factId: id, cells, cut: fact.cellsTakenDown === true });
    }
    if (fact.kind !== 'inspection' && fact.kind !== 'cells-cut') continue;
    looks.push({
      atMs,
      factId: id,
      cells: cellCounts(fact.cells),
      glance: false,
      ...searched(fact, facts),
      shellsCounted: fact.cells.emerged !== undefined,
      tornDownCounted: fact.cells.tornDown !== undefined,
      cut: fact.kind === 'cells-cut',
      youngestBrood: fact.youngestBrood,
      eggsAreHers: fact.eggsOutsideMesh === false,
      virginSeen: fact.virginSeen ?? null,
    });
  }
  return looks;
}

/** In a look for the queen, at least as many cells were taken down as had been seen. */
const takesDown = (look: CellLook, seen: CellLook): boolean =>
  look.cut && (look.glance || seen.glance) && livingCells(look) >= livingCells(seen);

/** As many cells as it saw, or all, were taken out when the queen was: at the split, or with her. */
const takenOutSince = (seen: CellLook, facts: readonly EffectiveFact[]): boolean =>
  facts.some(
    ({ atMs, fact }) =>
      (fact.kind === 'split-made' || fact.kind === 'queen-removed') &&
      atMs >= seen.atMs &&
      fact.cellsAlreadyThere === 'present-and-removed' &&
      (fact.cellsTakenOut ?? Infinity) >= livingCells(seen),
  );

/** By then the virgin of the oldest living cell that it saw is out, or the bees tore the cell down. */
export const emergedByMs = ({ atMs, cells }: CellLook): number =>
  atMs +
  developmentMs(highEnd(queenEmergesDays) - lowEnd(cells.sealed > 0 ? queenCellSealedDays : eggStageDays));

/** Its virgin was taken away, or the queen that was let out was seen days after it must have been out: one had killed the other. */
function virginSettledSince(
  seen: CellLook,
  facts: readonly EffectiveFact[],
  releasedAtMs: number | null,
): boolean {
  const outMs = emergedByMs(seen);
  const decidedMs = outMs + developmentMs(lookAgainForQueenDays.value);
  const besideHer = releasedAtMs !== null && seen.atMs >= releasedAtMs;
  return facts.some(
    ({ atMs, fact }) =>
      (fact.kind === 'queen-removed' && fact.which !== 'old-queen' && atMs >= outMs) ||
      (fact.kind === 'looked-for-queen' && fact.queenSeen && besideHer && atMs >= decidedMs),
  );
}

/** The last look that saw living cells and left them, if no complete cut came after it. */
export function cellsLeftStanding(
  looks: readonly CellLook[],
  facts: readonly EffectiveFact[],
  releasedAtMs: number | null,
): CellLook | undefined {
  const last = lastOf(looks.filter((look) => !look.cut && livingCells(look) > 0));
  const cutSince =
    last &&
    looks.some(
      (look) => look.atMs >= last.atMs && look !== last && (leavesNoCell(look) || takesDown(look, last)),
    );
  const settled = last && (takenOutSince(last, facts) || virginSettledSince(last, facts, releasedAtMs));
  return cutSince || settled ? undefined : last;
}
