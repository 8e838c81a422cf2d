/** What looks find of cells and shells, and what they all pass over: cells that hide are missed more often, at every look. */
import { hiddenCells, virginNoticedShare } from '../../biology/figures.ts';
import type { Fate } from './cell-fates.ts';

/** What one look found. */
export interface LookFound {
  readonly atMs: number;
  /** Open and sealed cells; null where nobody counted them. */
  readonly cells: number | null;
  /** Opened shells of cells that a virgin has left; null where nobody counted them. */
  readonly emerged: number | null;
  /** Cells that bees have torn down; null or absent where nobody counted them. */
  readonly tornDown?: number | null;
  /** Share of the cells that it covered; all of them where absent. */
  readonly share?: number;
  /** False where the entry does not say whether a virgin was seen. */
  readonly virginSought?: boolean;
}

/** Means, for one cell started on average, of what was seen at each look and of what is dangerous. */
export interface Thinned {
  readonly cells: Float64Array;
  readonly shells: Float64Array;
  readonly tornDown: Float64Array;
  /** All that was seen or would have been, with virgins that a test frame or a look has shown not to be there. */
  readonly seen: number;
  readonly dangerous: number;
  /** Of those, the virgins that are out. */
  readonly out: number;
  /** Passed over by every look, and their virgins out before one was found and taken away. */
  readonly settled: number;
}

/** Of cells that are alike in how easily they are missed. */
type AlikeInput = readonly [fates: readonly Fate[], looks: readonly LookFound[], miss: number, outBy: number];

function addAlike(to: Writable, [fates, looks, miss, outBy]: AlikeInput, share: number): void {
  const { cells, shells, tornDown } = to;
  for (const { first, end, shellEnd, ends, weight } of fates) {
    let missed = weight * share;
    for (let i = first; i < Math.min(shellEnd, looks.length); i++) {
      const look = looks[i];
      const left = ends === 'torn-down' ? (look?.tornDown ?? null) : look?.emerged;
      const counted = i < end ? look?.cells : left;
      const found = missed * (1 - miss) * (look?.share ?? 1);
      const seen = i < end ? cells : ends === 'torn-down' ? tornDown : shells;
      if (counted !== null) {
        seen[i] = (seen[i] ?? 0) + found;
        to.seen += found;
      }
      // A shell that nobody counted tells nothing; a cell that was found is cut, counted or not.
      if (i < end || counted !== null) missed -= found;
    }
    if (ends === 'settled') to.settled += missed;
    if (ends === 'torn-down' || ends === 'settled') continue;
    const sought = looks.slice(end).filter((look) => look.virginSought !== false).length;
    const unseen = ends === 'excluded' ? 0 : (1 - virginNoticedShare.value) ** sought;
    to.dangerous += missed * unseen;
    if (end <= outBy) to.out += missed * unseen;
    to.seen += missed * (1 - unseen);
  }
}

type Writable = { -readonly [K in keyof Thinned]: Thinned[K] };

/** `outBy`: the look before which a virgin has emerged that counts as out. */
export function thinned(
  fates: readonly Fate[],
  looks: readonly LookFound[],
  miss: number,
  outBy = looks.length,
): Thinned {
  const all: Writable = {
    cells: new Float64Array(looks.length),
    shells: new Float64Array(looks.length),
    tornDown: new Float64Array(looks.length),
    seen: 0,
    dangerous: 0,
    out: 0,
    settled: 0,
  };
  for (const { odds, share } of hiddenCells) {
    const itsOdds = (odds * miss) / (1 - miss);
    addAlike(all, [fates, looks, itsOdds / (1 + itsOdds), outBy], share);
  }
  return all;
}
