/**
 * Numbers of cells integrated out on a grid, against the same model drawn at random: numbers of cells from their gammas (of
 * whole shape: sums of exponentials), counts by Poisson, each draw weighted by how likely it makes what was found.
 */
import { describe, expect, it } from 'vitest';
import { developmentMs } from '../../server/biology/duration.ts';
import {
  cellNumberShape,
  cellsPerColony,
  startedAgainSpread,
  swarmCellNumberShape,
  swarmCellsAtSplit,
} from '../../server/biology/figures.ts';
import { cellFates, firstVirginMs, type Wave } from '../../server/introduction/cells/cell-fates.ts';
import { likelihoods, missGrid, type Known } from '../../server/introduction/cells/cell-likelihood.ts';
import { thinned, type LookFound, type Thinned } from '../../server/introduction/cells/thinning.ts';
import { rngFor } from '../../simulator/random.ts';

const lossMs = Date.UTC(2026, 4, 10, 9);
const after = (days: number): number => lossMs + developmentMs(days);
const loss: Wave = { fromMs: lossMs, after: 'loss', eggMs: lossMs, weight: 1 };
const cut: Wave = { fromMs: after(3), after: 'cut', eggMs: lossMs, weight: 0.4 };
const look = (days: number, cells: number, emerged = 0, tornDown = 0): LookFound => ({
  atMs: after(days),
  cells,
  emerged,
  tornDown,
});
const nextMs = after(13);

const records: readonly (Known & { readonly name: string })[] = [
  { name: 'cut twice', waves: [loss], looks: [look(7, 9), look(10, 1)] },
  {
    name: 'started again after an early cut',
    waves: [loss, cut],
    looks: [look(3, 12), look(7, 4), look(10, 0)],
  },
  {
    name: 'swarm cells may have stood',
    waves: [loss],
    swarm: { atMs: lossMs, chance: 0.4 },
    looks: [look(2, 3), look(8, 6, 1, 2), look(11, 1)],
  },
  {
    name: 'a virgin was taken away, and none was loose later',
    waves: [loss, cut],
    swarm: { atMs: lossMs, chance: 1 },
    looks: [look(8, 5, 1), look(11, 0)],
    virginTaken: true,
    settledAtMs: after(9),
    noVirginAtMs: after(10),
  },
];

const draws = 60_000;

function drawn(record: Known, miss: number, untilMs: number) {
  const { looks, waves, swarm, virginTaken } = record;
  const swarmWaves: Wave[] = swarm
    ? [{ fromMs: swarm.atMs, after: 'swarm', eggMs: swarm.atMs, weight: 1 }]
    : [];
  const taken = virginTaken ? firstVirginMs(waves.concat(swarmWaves)) + 1 : -Infinity;
  const known = {
    noneAtMs: record.noVirginAtMs ?? -Infinity,
    settledAtMs: Math.max(record.settledAtMs ?? -Infinity, taken),
  };
  const instants = looks.map(({ atMs }) => atMs).concat(untilMs);
  const ahead = looks.concat({ atMs: untilMs, cells: 0, emerged: 0, tornDown: 0 });
  const kinds = [
    waves.filter((w) => w.after === 'loss'),
    waves.filter((w) => w.after !== 'loss'),
    swarmWaves,
  ].map((of) => {
    const fates = cellFates(of, instants, known);
    return { now: thinned(fates, looks, miss), next: thinned(fates, ahead, miss).cells[looks.length] ?? 0 };
  });
  const rng = rngFor(11, 'numbers of cells');
  const gamma = (shape: number, mean: number): number => {
    let sum = 0;
    for (let k = 0; k < shape; k++) sum += rng.exponential(mean / shape);
    return sum;
  };
  const timesOf = (): number => {
    if (!waves.some((w) => w.after !== 'loss')) return 1;
    let left = rng.uniform();
    for (const { times, share } of startedAgainSpread) if ((left -= share) < 0) return times;
    return startedAgainSpread.at(-1)?.times ?? 1;
  };
  const totals = { all: 0, some: 0, someOut: 0, expected: 0, nothingNext: 0 };
  for (let d = 0; d < draws; d++) {
    const first = gamma(cellNumberShape.value, cellsPerColony.value);
    const stood = rng.chance(swarm?.chance ?? 0)
      ? gamma(swarmCellNumberShape.value, swarmCellsAtSplit.value)
      : 0;
    const numbers = [first, first * timesOf(), stood];
    const mean = (of: (one: Thinned) => number): number =>
      kinds.reduce((sum, { now }, k) => sum + (numbers[k] ?? 0) * of(now), 0);
    let log = -mean(({ seen }) => seen);
    looks.forEach(({ cells, emerged, tornDown }, i) => {
      const found = [
        [cells ?? 0, mean((one) => one.cells[i] ?? 0)],
        [emerged ?? 0, mean((one) => one.shells[i] ?? 0)],
        [tornDown ?? 0, mean((one) => one.tornDown[i] ?? 0)],
      ] as const;
      for (const [count, expected] of found) if (count > 0) log += count * Math.log(expected);
    });
    const weight = Math.exp(log) * (virginTaken ? 1 - Math.exp(-mean(({ settled }) => settled)) : 1);
    const left = mean(({ dangerous }) => dangerous);
    const next = kinds.reduce((sum, one, k) => sum + (numbers[k] ?? 0) * one.next, 0);
    totals.all += weight;
    totals.some += weight * (1 - Math.exp(-left));
    totals.someOut += weight * (1 - Math.exp(-mean(({ out }) => out)));
    totals.expected += weight * left;
    totals.nothingNext += weight * Math.exp(-next);
  }
  const { all, some, someOut, expected, nothingNext } = totals;
  return {
    log: Math.log(all / draws),
    some: some / all,
    someOut: someOut / all,
    expected: expected / all,
    nothingNext: nothingNext / all,
  };
}

/** Points of the grid: about 2, 10 and 25 % of the cells are missed. */
const points = [4, 9, 15];

describe.each(records)('$name', (record) => {
  it('chances at each miss rate are those of the model drawn', () => {
    const told = likelihoods(record, nextMs, true);
    const byDraw = points.map((k) => drawn(record, missGrid[k]?.miss ?? 0, nextMs));
    points.forEach((k, i) => {
      const grid = told[k]!;
      const draw = byDraw[i]!;
      for (const key of ['some', 'someOut', 'expected', 'nothingNext'] as const)
        expect(Math.abs(grid[key] / draw[key] - 1), `${key} at ${String(grid.miss)}`).toBeLessThan(0.05);
      // Both up to one constant: what the finds say for one miss rate against another.
      const [first, firstDraw] = [told[points[0]!]!, byDraw[0]!];
      expect(Math.abs(grid.log - first.log - (draw.log - firstDraw.log))).toBeLessThan(0.1);
    });
  });
});
