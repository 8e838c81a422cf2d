/** One class of cells thinned by looks, each sum written out by hand for a chance of one in three to be missed. */
import { describe, expect, it } from 'vitest';
import { hiddenCells, virginNoticedShare } from '../../server/biology/figures.ts';
import type { Fate } from '../../server/introduction/cells/cell-fates.ts';
import { thinned, type LookFound } from '../../server/introduction/cells/thinning.ts';

const miss = 1 / 3;
const noticed = virginNoticedShare.value;
/** The mean over cells that hide well and badly of what comes of each, by its own chance of being missed. */
const mean = (of: (missed: number) => number): number =>
  hiddenCells.reduce((sum, { odds, share }) => {
    const itsOdds = (odds * miss) / (1 - miss);
    return sum + share * of(itsOdds / (1 + itsOdds));
  }, 0);

const look = (over: Partial<LookFound> = {}): LookFound => ({
  atMs: 0,
  cells: 0,
  emerged: 0,
  tornDown: 0,
  virginSought: false,
  ...over,
});
const fate = (over: Partial<Fate> = {}): Fate => ({
  first: 0,
  end: 2,
  shellEnd: 2,
  ends: 'virgin',
  weight: 1,
  ...over,
});
const nothing = {
  cells: [0, 0],
  shells: [0, 0],
  tornDown: [0, 0],
  seen: 0,
  dangerous: 0,
  out: 0,
  settled: 0,
};

const rows: readonly {
  readonly name: string;
  readonly fates: readonly Fate[];
  readonly looks: readonly LookFound[];
  readonly outBy?: number;
  readonly thins: Partial<typeof nothing>;
}[] = [
  {
    name: 'a cell that stands at both looks, two of it',
    fates: [fate({ weight: 2 })],
    looks: [look(), look()],
    thins: {
      cells: [mean((m) => 2 * (1 - m)), mean((m) => 2 * m * (1 - m))],
      seen: mean((m) => 2 * (1 - m * m)),
      dangerous: mean((m) => 2 * m * m),
      out: mean((m) => 2 * m * m),
    },
  },
  {
    name: 'the same, whose virgin is not out before the second look',
    fates: [fate()],
    looks: [look(), look()],
    outBy: 1,
    thins: {
      cells: [mean((m) => 1 - m), mean((m) => m * (1 - m))],
      seen: mean((m) => 1 - m * m),
      dangerous: mean((m) => m * m),
    },
  },
  {
    name: 'a look that covers half of the cells',
    fates: [fate()],
    looks: [look({ share: 0.5 }), look()],
    thins: {
      cells: [mean((m) => 0.5 * (1 - m)), mean((m) => (1 - 0.5 * (1 - m)) * (1 - m))],
      seen: mean((m) => 1 - (1 - 0.5 * (1 - m)) * m),
      dangerous: mean((m) => (1 - 0.5 * (1 - m)) * m),
      out: mean((m) => (1 - 0.5 * (1 - m)) * m),
    },
  },
  {
    name: 'cells that nobody counted: what was found is cut, and no count is expected of it',
    fates: [fate()],
    looks: [look({ cells: null }), look()],
    thins: {
      cells: [0, mean((m) => m * (1 - m))],
      seen: mean((m) => m * (1 - m)),
      dangerous: mean((m) => m * m),
      out: mean((m) => m * m),
    },
  },
  {
    name: 'one that opens between the looks: its shell is found at the second',
    fates: [fate({ end: 1 })],
    looks: [look(), look()],
    thins: {
      cells: [mean((m) => 1 - m), 0],
      shells: [0, mean((m) => m * (1 - m))],
      seen: mean((m) => 1 - m * m),
      dangerous: mean((m) => m * m),
      out: mean((m) => m * m),
    },
  },
  {
    name: 'the same where nobody counted shells: they tell nothing',
    fates: [fate({ end: 1 })],
    looks: [look(), look({ emerged: null })],
    thins: {
      cells: [mean((m) => 1 - m), 0],
      seen: mean((m) => 1 - m),
      dangerous: mean((m) => m),
      out: mean((m) => m),
    },
  },
  {
    name: 'the same where a virgin was looked for at the second: some would have been seen',
    fates: [fate({ end: 1, shellEnd: 1 })],
    looks: [look(), look({ virginSought: true })],
    thins: {
      cells: [mean((m) => 1 - m), 0],
      seen: mean((m) => 1 - m + m * noticed),
      dangerous: mean((m) => m * (1 - noticed)),
      out: mean((m) => m * (1 - noticed)),
    },
  },
  {
    name: 'a virgin that a test frame has shown not to be there',
    fates: [fate({ ends: 'excluded' })],
    looks: [look(), look()],
    thins: { cells: [mean((m) => 1 - m), mean((m) => m * (1 - m))], seen: 1 },
  },
  {
    name: 'one that was found and taken away',
    fates: [fate({ ends: 'settled' })],
    looks: [look(), look()],
    thins: {
      cells: [mean((m) => 1 - m), mean((m) => m * (1 - m))],
      seen: mean((m) => 1 - m * m),
      settled: mean((m) => m * m),
    },
  },
  {
    name: 'one that the bees tear down between the looks: what is left of it is counted',
    fates: [fate({ end: 1, ends: 'torn-down' })],
    looks: [look(), look({ emerged: null })],
    thins: {
      cells: [mean((m) => 1 - m), 0],
      tornDown: [0, mean((m) => m * (1 - m))],
      seen: mean((m) => 1 - m * m),
    },
  },
  {
    name: 'the same where nobody counted those',
    fates: [fate({ end: 1, ends: 'torn-down' })],
    looks: [look(), look({ tornDown: null })],
    thins: { cells: [mean((m) => 1 - m), 0], seen: mean((m) => 1 - m) },
  },
  {
    name: 'the same where the entry is silent about them',
    fates: [fate({ end: 1, ends: 'torn-down' })],
    looks: [look(), { atMs: 0, cells: 0, emerged: 0 }],
    thins: { cells: [mean((m) => 1 - m), 0], seen: mean((m) => 1 - m) },
  },
  {
    name: 'one that is started after the first look',
    fates: [fate({ first: 1 })],
    looks: [look(), look()],
    thins: {
      cells: [0, mean((m) => 1 - m)],
      seen: mean((m) => 1 - m),
      dangerous: mean((m) => m),
      out: mean((m) => m),
    },
  },
];

describe('a class of cells', () => {
  it.each(rows)('$name', ({ fates, looks, outBy, thins }) => {
    const found = thinned(fates, looks, miss, outBy);
    const expected = { ...nothing, ...thins };
    for (const key of ['cells', 'shells', 'tornDown'] as const)
      expect(
        [...found[key]].map((of) => of.toFixed(9)),
        key,
      ).toEqual(expected[key].map((of) => of.toFixed(9)));
    for (const key of ['seen', 'dangerous', 'out', 'settled'] as const)
      expect(found[key], key).toBeCloseTo(expected[key], 9);
  });
});
