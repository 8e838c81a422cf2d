/**
 * How likely what the looks found is, and what it leaves, at each miss rate of a grid; the numbers of cells are
 * integrated out. See `standing-cells.ts` for the model and its source. Pure.
 */
import {
  cellNumberShape,
  cellsPerColony,
  startedAgainSpread,
  swarmCellNumberShape,
  swarmCellsAtSplit,
} from '../../biology/figures.ts';
import { cellFates, firstVirginMs, type Fate, type Wave } from './cell-fates.ts';
import type { MissRate } from '../log/setup.ts';
import { thinned, type LookFound, type Thinned } from './thinning.ts';

/** What is known about one nuc's cells. */
export interface CellRecord {
  /** Emergency cells. */
  readonly waves: readonly Wave[];
  /** Swarm cells that stood when the queen was lost: the chance that there were any. */
  readonly swarm?: { readonly atMs: number; readonly chance: number };
  /** Looks in ascending order. */
  readonly looks: readonly LookFound[];
  readonly missRate: MissRate;
  /** A test frame showed that no virgin was loose then. */
  readonly noVirginAtMs?: number;
  /** Virgins that had emerged by then were found and taken away. */
  readonly settledAtMs?: number;
  /** One of them was a virgin of whose cell no shell was found: it had been missed. */
  readonly virginTaken?: boolean;
}

/** Method: points of the grid of miss rates; midpoints on the square scale: the weight lies near zero. */
const gridSize = 30;
export const missGrid: readonly { readonly miss: number; readonly width: number }[] = Array.from(
  { length: gridSize },
  (_, i) => {
    const from = (i / gridSize) ** 2;
    const to = ((i + 1) / gridSize) ** 2;
    return { miss: (from + to) / 2, width: to - from };
  },
);

/** A mean number of cells with its share of the prior. */
interface MeanCells {
  readonly mean: number;
  /** Log of its share. */
  readonly log: number;
}

/** Method: hardly anything of a gamma is left beyond so many means. */
const tailMeans = 8;
/** Method: points of the numbers of cells; more change no chance by 0.1 %. */
const pointsOfMeans = { emergency: 30, swarm: 8 };
/** A gamma as points: midpoints on the square scale, up to where hardly anything is left. */
function gammaPoints(shape: number, mean: number, size: number): readonly MeanCells[] {
  const most = tailMeans * mean;
  const points = Array.from({ length: size }, (_, i) => {
    const from = most * (i / size) ** 2;
    const to = most * ((i + 1) / size) ** 2;
    const at = (from + to) / 2;
    return { mean: at, weight: (to - from) * at ** (shape - 1) * Math.exp((-shape * at) / mean) };
  });
  const total = sum(points.map(({ weight }) => weight));
  return points.map(({ mean: at, weight }) => ({ mean: at, log: Math.log(weight / total) }));
}

export const sum = (values: ArrayLike<number>): number => {
  let total = 0;
  for (let i = 0; i < values.length; i++) total += values[i] ?? 0;
  return total;
};

const emergencyMeans = gammaPoints(cellNumberShape.value, cellsPerColony.value, pointsOfMeans.emergency);
const swarmMeans = gammaPoints(swarmCellNumberShape.value, swarmCellsAtSplit.value, pointsOfMeans.swarm);

const meansOfSwarm = (chance: number): readonly MeanCells[] => [
  ...(chance === 1 ? [] : [{ mean: 0, log: Math.log(1 - chance) }]),
  ...(chance === 0 ? [] : swarmMeans.map(({ mean, log }) => ({ mean, log: log + Math.log(chance) }))),
];

/** One point of the grid, before any word on how likely its miss rate is. */
export interface Likely {
  readonly miss: number;
  readonly width: number;
  /** Log likelihood of the finds, the numbers of cells integrated out; up to a constant. */
  readonly log: number;
  /** Chances there that something dangerous is left, and that a virgin is out. */
  readonly some: number;
  readonly someOut: number;
  readonly expected: number;
  /** Chance that one more look finds nothing; only where `next` was asked for. */
  readonly nothingNext: number;
}

/** Method: keeps a logarithm finite. */
const tiny = 1e-12;

/** A count, with its means for one emergency cell and for one swarm cell. */
type Count = readonly [found: number, here: number, before: number];

/** The counts that are not zero, beside all that was seen on average. */
function counts(looks: readonly LookFound[], here: Thinned, before: Thinned): readonly Count[] {
  return looks
    .flatMap((look, i): Count[] => [
      [look.cells ?? 0, here.cells[i] ?? 0, before.cells[i] ?? 0],
      [look.emerged ?? 0, here.shells[i] ?? 0, before.shells[i] ?? 0],
      [look.tornDown ?? 0, here.tornDown[i] ?? 0, before.tornDown[i] ?? 0],
    ])
    .filter(([found]) => found > 0);
}

/** The numbers of cells integrated out at one miss rate. */
function integrated(
  looks: readonly LookFound[],
  here: Thinned,
  before: Thinned,
  ofSwarm: readonly MeanCells[],
  next: { readonly here: number; readonly before: number },
  virginTaken: boolean,
): Summed {
  const found = counts(looks, here, before);
  const logs = new Float64Array(ofSwarm.length * emergencyMeans.length);
  const logOf = (mean: MeanCells, swarm: MeanCells): number => {
    let log = mean.log + swarm.log - mean.mean * here.seen - swarm.mean * before.seen;
    for (const [count, a, b] of found)
      log += count * Math.log(Math.max(mean.mean * a + swarm.mean * b, tiny));
    // At least one had emerged: of several one is left.
    return virginTaken
      ? log + Math.log(Math.max(-Math.expm1(-mean.mean * here.settled - swarm.mean * before.settled), tiny))
      : log;
  };
  let highest = -Infinity;
  let place = 0;
  for (const swarm of ofSwarm)
    for (const mean of emergencyMeans) {
      const log = logOf(mean, swarm);
      highest = Math.max(highest, log);
      logs[place++] = log;
    }
  const totals = { all: 0, some: 0, someOut: 0, expected: 0, nothingNext: 0 };
  place = 0;
  for (const { mean: swarm } of ofSwarm)
    for (const { mean } of emergencyMeans) {
      const weight = Math.exp((logs[place++] ?? 0) - highest);
      if (weight < negligible) continue;
      const left = mean * here.dangerous + swarm * before.dangerous;
      totals.all += weight;
      totals.some -= weight * Math.expm1(-left);
      totals.someOut -= weight * Math.expm1(-(mean * here.out + swarm * before.out));
      totals.expected += weight * left;
      totals.nothingNext += weight * Math.exp(-(mean * next.here + swarm * next.before));
    }
  const { all, some, someOut, expected, nothingNext } = totals;
  return {
    log: highest + Math.log(all),
    some: some / all,
    someOut: someOut / all,
    expected: expected / all,
    nothingNext: nothingNext / all,
  };
}

/** Method: points of the grid that weigh less than this beside the heaviest change nothing. */
const negligible = 1e-9;

/** Cells of the first waves and those that were started again, so many times what is usual. */
const together = (first: Thinned, again: Thinned, times: number): Thinned => ({
  cells: first.cells.map((mean, i) => mean + times * (again.cells[i] ?? 0)),
  shells: first.shells.map((mean, i) => mean + times * (again.shells[i] ?? 0)),
  tornDown: first.tornDown.map((mean, i) => mean + times * (again.tornDown[i] ?? 0)),
  seen: first.seen + times * again.seen,
  dangerous: first.dangerous + times * again.dangerous,
  out: first.out + times * again.out,
  settled: first.settled + times * again.settled,
});

type Summed = Omit<Likely, 'miss' | 'width'>;

/** One point from several, each with its share. */
function mixed(points: readonly (Summed & { readonly share: number })[]): Summed {
  const highest = Math.max(...points.map(({ log }) => log));
  const weights = points.map(({ log, share }) => share * Math.exp(log - highest));
  const total = sum(weights);
  const mean = (of: (point: Summed) => number): number =>
    sum(points.map((point, i) => ((weights[i] ?? 0) / total) * of(point)));
  return {
    log: highest + Math.log(total),
    some: mean(({ some }) => some),
    someOut: mean(({ someOut }) => someOut),
    expected: mean(({ expected }) => expected),
    nothingNext: mean(({ nothingNext }) => nothingNext),
  };
}

export type Known = Omit<CellRecord, 'missRate'>;

/** `untilMs`: the instant that parts virgins that are out from cells that stand; `next`: one more look then. */
export function likelihoods(record: Known, untilMs = Infinity, next = false): readonly Likely[] {
  const { looks, waves, swarm, noVirginAtMs = -Infinity, settledAtMs = -Infinity } = record;
  const before = looks.findIndex((look) => look.atMs >= untilMs);
  const outBy = before === -1 ? looks.length : before;
  const instants = [...looks.map((look) => look.atMs), ...(before === -1 ? [untilMs] : [])];
  const swarmWaves: readonly Wave[] = swarm
    ? [{ fromMs: swarm.atMs, after: 'swarm', eggMs: swarm.atMs, weight: 1 }]
    : [];
  // One that came sooner than the figures say was of the first cells.
  const takenMs = record.virginTaken ? firstVirginMs([...waves, ...swarmWaves]) + 1 : -Infinity;
  const known = { noneAtMs: noVirginAtMs, settledAtMs: Math.max(settledAtMs, takenMs) };
  const isFirst = (wave: Wave): boolean => wave.after === 'loss';
  const first = cellFates(waves.filter(isFirst), instants, known);
  const again = cellFates(
    waves.filter((wave) => !isFirst(wave)),
    instants,
    known,
  );
  const ofSwarm = cellFates(swarmWaves, instants, known);
  const means = meansOfSwarm(swarm?.chance ?? 0);
  const spread = again.length > 0 ? startedAgainSpread : [{ times: 1, share: 1 }];
  const ahead: readonly LookFound[] = [...looks, { atMs: untilMs, cells: 0, emerged: 0, tornDown: 0 }];
  const nextOf = (fates: readonly Fate[], miss: number): number =>
    next && fates.length > 0 ? (thinned(fates, ahead, miss).cells[looks.length] ?? 0) : 0;
  return missGrid.map(({ miss, width }) => {
    const of = (fates: readonly Fate[]): Thinned => thinned(fates, looks, miss, outBy);
    const [firstHere, againHere, before] = [of(first), of(again), of(ofSwarm)];
    const nexts = [first, again, ofSwarm].map((fates) => nextOf(fates, miss));
    const [nextFirst = 0, nextAgain = 0, nextBefore = 0] = nexts;
    const points = spread.map(({ times, share }) => ({
      share,
      ...integrated(
        looks,
        together(firstHere, againHere, times),
        before,
        means,
        { here: nextFirst + times * nextAgain, before: nextBefore },
        record.virginTaken === true,
      ),
    }));
    return { miss, width, ...mixed(points) };
  });
}

export const logPrior = ({ alpha, beta }: MissRate, miss: number): number =>
  (alpha - 1) * Math.log(miss) + (beta - 1) * Math.log(1 - miss);

/** Weights that add up to 1, from their logarithms and the widths of their points. */
export function normalised(
  points: readonly { readonly width: number; readonly log: number }[],
): readonly number[] {
  const highest = Math.max(...points.map(({ log }) => log));
  const weights = points.map(({ width, log }) => width * Math.exp(log - highest));
  const total = sum(weights);
  return weights.map((weight) => weight / total);
}

export function posterior(
  record: CellRecord,
  untilMs?: number,
  next?: boolean,
): readonly (Likely & { readonly weight: number })[] {
  const points = likelihoods(record, untilMs, next).map((point) => ({
    ...point,
    log: point.log + logPrior(record.missRate, point.miss),
  }));
  const weights = normalised(points);
  return points.map((point, i) => ({ ...point, weight: weights[i] ?? 0 }));
}
