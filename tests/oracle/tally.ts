/** Counts over many histories: unsafe answers, caution, and whether the stated chance comes true. */
import { play, type Go, type Stated } from './history.ts';

export interface Bin {
  readonly from: number;
  readonly to: number;
  count: number;
  /** Sums over the statements of the bin: chance, those that came true, variance if the chances are right. */
  stated: number;
  came: number;
  variance: number;
}

interface Count {
  histories: number;
  go: number;
  /** A virgin was loose within a week after the go. */
  virgin: number;
}

export interface Tally {
  histories: number;
  go: number;
  readonly byKind: Record<string, Count>;
  readonly unsafe: { readonly seed: number; readonly go: Go }[];
  readonly clean: { histories: number; goOnDay10: number };
  readonly bins: readonly Bin[];
}

const edges = [0, 0.01, 0.02, 0.03, 0.04, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.001];

export const empty = (): Tally => ({
  histories: 0,
  go: 0,
  byKind: {},
  unsafe: [],
  clean: { histories: 0, goOnDay10: 0 },
  bins: edges.slice(0, -1).map((from, i) => ({
    from,
    to: edges[i + 1] ?? 1,
    count: 0,
    stated: 0,
    came: 0,
    variance: 0,
  })),
});

export function count(bins: readonly Bin[], { chance, came }: Stated): void {
  const bin = bins.find(({ from, to }) => chance >= from && chance < to);
  if (!bin) throw new Error(`a chance of ${String(chance)}`);
  bin.count++;
  bin.stated += chance;
  bin.came += Number(came);
  bin.variance += chance * (1 - chance);
}

const isUnsafe = (go: Go): boolean => go.rearableLarva || go.cellToBeKnown || go.oldQueen;

/** Plays `histories` histories from `seed` on, with or without overlooked cells. */
export function tally(histories: number, seed: number, misses: boolean): Tally {
  const t = empty();
  for (let i = 0; i < histories; i++) {
    const told = play(seed + i, misses);
    const kind = (t.byKind[told.kind] ??= { histories: 0, go: 0, virgin: 0 });
    t.histories++;
    kind.histories++;
    // One statement a history, as those of one history hang together; which one is settled beforehand, as what
    // comes later decides how many there are.
    const one = told.stated[i % 3];
    if (one) count(t.bins, one);
    if (told.clean) {
      t.clean.histories++;
      if (told.clean.goOnDay10) t.clean.goOnDay10++;
    }
    if (!told.go) continue;
    t.go++;
    kind.go++;
    if (told.go.virginWithinAWeek) kind.virgin++;
    if (isUnsafe(told.go)) t.unsafe.push({ seed: seed + i, go: told.go });
  }
  return t;
}

/** Counts of both. */
export function merge(a: Tally, b: Tally): Tally {
  const kinds = [...new Set([...Object.keys(a.byKind), ...Object.keys(b.byKind)])].sort();
  const of = (t: Tally, kind: string) => t.byKind[kind] ?? { histories: 0, go: 0, virgin: 0 };
  return {
    histories: a.histories + b.histories,
    go: a.go + b.go,
    byKind: Object.fromEntries(
      kinds.map((kind) => [
        kind,
        {
          histories: of(a, kind).histories + of(b, kind).histories,
          go: of(a, kind).go + of(b, kind).go,
          virgin: of(a, kind).virgin + of(b, kind).virgin,
        },
      ]),
    ),
    unsafe: [...a.unsafe, ...b.unsafe],
    clean: {
      histories: a.clean.histories + b.clean.histories,
      goOnDay10: a.clean.goOnDay10 + b.clean.goOnDay10,
    },
    bins: a.bins.map((bin, i) => {
      const other = b.bins[i] ?? { count: 0, stated: 0, came: 0, variance: 0 };
      return {
        ...bin,
        count: bin.count + other.count,
        stated: bin.stated + other.stated,
        came: bin.came + other.came,
        variance: bin.variance + other.variance,
      };
    }),
  };
}

/** Share of gos after which a virgin was loose within a week; an own laying queen's are counted apart. */
export function virginShare({ byKind }: Tally): { readonly bought: number; readonly own: number } {
  const share = (counts: readonly Count[]): number => {
    const go = counts.reduce((sum, count) => sum + count.go, 0);
    return go === 0 ? 0 : counts.reduce((sum, count) => sum + count.virgin, 0) / go;
  };
  const { 'own-queen': own, ...bought } = byKind;
  return { bought: share(Object.values(bought)), own: share(own ? [own] : []) };
}

/** How far what came lies from what was stated, in standard errors. */
export const standardErrorsOff = ({ stated, came, variance }: Bin): number =>
  variance === 0 ? 0 : (came - stated) / Math.sqrt(variance);

/** Expected to come and not to come: with fewer, a count is no normal distribution (Cochran's rule of five, from memory). */
const leastExpected = 5;

/** Neighbouring bins joined until standard errors mean something; what is left over at the end belongs to the last. */
export function judged(bins: readonly Bin[]): readonly Bin[] {
  const isEnough = ({ stated, count }: Bin): boolean =>
    stated >= leastExpected && count - stated >= leastExpected;
  const joined: Bin[] = [];
  for (const bin of bins.filter((one) => one.count > 0)) {
    const last = joined.at(-1);
    if (!last || isEnough(last)) joined.push({ ...bin });
    else joined[joined.length - 1] = together(last, bin);
  }
  const [last, before] = [joined.at(-1), joined.at(-2)];
  if (!last || !before || isEnough(last)) return joined;
  return [...joined.slice(0, -2), together(before, last)];
}

const together = (a: Bin, b: Bin): Bin => ({
  from: a.from,
  to: b.to,
  count: a.count + b.count,
  stated: a.stated + b.stated,
  came: a.came + b.came,
  variance: a.variance + b.variance,
});
