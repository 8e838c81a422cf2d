/** Counts over many histories: unsafe answers, caution, and whether the stated chance comes true. */
import { play, type Go, type Stated } from './history.ts';

export interface Bin {
  readonly from: number;
  readonly to: number;
  readonly count: number;
  readonly stated: number;
  readonly came: number;
  /** Standard error of the observed share if the stated chances were right. */
  readonly standardError: number;
}

export interface Tally {
  readonly histories: number;
  readonly go: number;
  readonly byKind: Readonly<Record<string, { readonly histories: number; readonly go: number }>>;
  readonly unsafe: readonly { readonly seed: number; readonly go: Go }[];
  readonly clean: { readonly histories: number; readonly goOnDay10: number };
  readonly virginWithinAWeek: number;
  readonly bins: readonly Bin[];
}

const edges = [0, 0.01, 0.02, 0.03, 0.04, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.001];

function bin(stated: readonly Stated[]): readonly Bin[] {
  return edges.slice(0, -1).flatMap((from, i) => {
    const to = edges[i + 1] ?? 1;
    const within = stated.filter(({ chance }) => chance >= from && chance < to);
    if (within.length === 0) return [];
    const count = within.length;
    return [
      {
        from,
        to,
        count,
        stated: within.reduce((sum, { chance }) => sum + chance, 0) / count,
        came: within.filter(({ came }) => came).length / count,
        standardError: Math.sqrt(within.reduce((sum, { chance }) => sum + chance * (1 - chance), 0)) / count,
      },
    ];
  });
}

const isUnsafe = (go: Go): boolean => go.rearableLarva || go.cellToBeKnown || go.queenToBeKnown;

/** Plays `histories` histories from `seed` on, with or without overlooked cells. */
export function tally(histories: number, seed: number, misses: boolean): Tally {
  const byKind: Record<string, { histories: number; go: number }> = {};
  const unsafe: { seed: number; go: Go }[] = [];
  const stated: Stated[] = [];
  const clean = { histories: 0, goOnDay10: 0 };
  let gos = 0;
  let loose = 0;
  for (let i = 0; i < histories; i++) {
    const told = play(seed + i, misses);
    const kind = (byKind[told.kind] ??= { histories: 0, go: 0 });
    kind.histories++;
    // One statement a history, as those of one history hang together; which one is settled beforehand, as what
    // comes later decides how many there are.
    const one = told.stated[i % 3];
    if (one) stated.push(one);
    if (told.clean) {
      clean.histories++;
      if (told.clean.goOnDay10) clean.goOnDay10++;
    }
    if (!told.go) continue;
    gos++;
    kind.go++;
    if (told.go.virginWithinAWeek) loose++;
    if (isUnsafe(told.go)) unsafe.push({ seed: seed + i, go: told.go });
  }
  return { histories, go: gos, byKind, unsafe, clean, virginWithinAWeek: loose, bins: bin(stated) };
}
