/** Queens shared out among the nucs that wait: who gets the first, and why; who goes without. */
import type { NucProjection } from '../../biology/nuc-population.ts';
import { startOfDay } from '../calendar.ts';
import {
  barredFor,
  canWait,
  notBegunYet,
  queenMayBeIn,
  wantsQueen,
  type Barred,
  type CanWait,
  type NotBegun,
} from '../acts/days/late-queen.ts';
import { splitInstant, type Clock } from '../acts/days/plan-windows.ts';
import type { IntroductionState } from '../state.ts';

/** A nuc that wants a queen: from when on she may hang in it, and how long it can wait for her. */
export interface WaitingNuc {
  readonly nucId: string;
  readonly readyFromMs: number;
  /** Infinite where nothing presses: not split yet, not known, or no queen may go in (`limit` says which). */
  readonly waitsUntilMs: number;
  readonly limit: CanWait['because'] | NotBegun | 'not-known' | 'queen-may-be-in' | Barred;
}

/** A look on the day on which she comes tells whether she may go in. */
const canStillHaveHer = ({ limit, waitsUntilMs }: WaitingNuc, fromMs: number): boolean =>
  limit === 'look-first' || waitsUntilMs >= fromMs;

const isBarred = ({ limit }: WaitingNuc): boolean =>
  limit === 'disease' || limit === 'workers-lay' || limit === 'to-be-united';

export interface QueenAtHand {
  readonly queenId: string;
  readonly fromMs: number;
}

export interface QueensShared {
  /** In the order in which the nucs are served. */
  readonly pairs: readonly {
    readonly nucId: string;
    readonly queenId: string;
    readonly hangFromMs: number;
    readonly why: string;
  }[];
  /** `tooLate`: the queens come after the day until which it can wait. */
  readonly nucsWithout: readonly {
    readonly nucId: string;
    readonly why: string;
    readonly tooLate: boolean;
  }[];
  readonly queensOver: readonly string[];
}

/** Null where the nuc wants no queen, or neither a split nor an arrival has a date. */
export function waitingNuc(
  state: IntroductionState,
  projection: NucProjection | null,
  clock: Clock,
): WaitingNuc | null {
  const splitMs = splitInstant(state, clock);
  if (!wantsQueen(state) || splitMs === null) return null;
  const { nucId, timeZone } = state.setup;
  const common = { nucId, readyFromMs: startOfDay(splitMs, timeZone) };
  const barred = barredFor(state);
  if (barred !== null) return { ...common, waitsUntilMs: Infinity, limit: barred };
  const notBegun = notBegunYet(state);
  if (notBegun !== null) return { ...common, waitsUntilMs: Infinity, limit: notBegun };
  if (queenMayBeIn(state)) return { ...common, waitsUntilMs: Infinity, limit: 'queen-may-be-in' };
  const wait = canWait(state, projection);
  return wait
    ? { ...common, waitsUntilMs: wait.untilMs, limit: wait.because }
    : { ...common, waitsUntilMs: Infinity, limit: 'not-known' };
}

const whyBy: Readonly<Record<WaitingNuc['limit'], string>> = {
  'laying-workers': 'of those that wait, workers may lay in it first',
  'too-few-bees': 'of those that wait, it has too few bees first',
  'look-first': 'workers may lay in it already: look for them first',
  'queen-may-be-in': 'a queen may be in it: it comes after those that surely have none',
  'not-split': 'it is not split yet, so it comes after those that are',
  'old-queen-in-it': 'its old queen is still in it, so it comes after those that have none',
  'not-known': 'nothing tells since when it is queenless, so it comes first',
  disease: 'signs of brood disease are logged, and no queen comes in before they are ruled out',
  'workers-lay': 'workers lay in it, and they kill a queen',
  'to-be-united': 'a queen is in it that nobody found: another one would be killed',
};

/**
 * Not known first, then by the day until which it can wait; those not split last, by the day of their split. Those
 * alike stay in the order in which they were given.
 */
const pressedFirst = (a: WaitingNuc, b: WaitingNuc): number =>
  Number(b.limit === 'not-known') - Number(a.limit === 'not-known') ||
  (a.waitsUntilMs === b.waitsUntilMs ? 0 : a.waitsUntilMs - b.waitsUntilMs) ||
  a.readyFromMs - b.readyFromMs;

/**
 * Queens in the order of arrival go to the nuc that can wait least of those that can still wait; none where she would
 * be killed, or carry a disease.
 */
export function shareQueens(nucs: readonly WaitingNuc[], queens: readonly QueenAtHand[]): QueensShared {
  const waiting = new Map(nucs.filter((nuc) => !isBarred(nuc)).map((nuc) => [nuc.nucId, nuc]));
  const pairs: QueensShared['pairs'][number][] = [];
  const over: string[] = [];
  for (const queen of queens.toSorted((a, b) => a.fromMs - b.fromMs || (a.queenId < b.queenId ? -1 : 1))) {
    const [next] = [...waiting.values()]
      .filter((nuc) => canStillHaveHer(nuc, queen.fromMs))
      .toSorted(pressedFirst);
    if (!next) {
      over.push(queen.queenId);
      continue;
    }
    waiting.delete(next.nucId);
    pairs.push({
      nucId: next.nucId,
      queenId: queen.queenId,
      hangFromMs: Math.max(queen.fromMs, next.readyFromMs),
      why: whyFirst(next, [...waiting.values()]),
    });
  }
  const firstMs = Math.min(...queens.map((queen) => queen.fromMs), Infinity);
  const without = [...[...waiting.values()].toSorted(pressedFirst), ...nucs.filter(isBarred)];
  return {
    pairs,
    queensOver: over,
    nucsWithout: without.map((nuc) => ({
      nucId: nuc.nucId,
      why: isBarred(nuc) ? whyBy[nuc.limit] : whyWithout(nuc, firstMs),
      tooLate: Number.isFinite(firstMs) && !canStillHaveHer(nuc, firstMs),
    })),
  };
}

function whyFirst(next: WaitingNuc, others: readonly WaitingNuc[]): string {
  if (next.limit === 'look-first' || next.limit === 'queen-may-be-in') return whyBy[next.limit];
  if (others.length === 0) return 'it is the last that waits';
  const alike = others.some(
    (nuc) =>
      nuc.limit === next.limit &&
      nuc.waitsUntilMs === next.waitsUntilMs &&
      nuc.readyFromMs === next.readyFromMs,
  );
  return alike && next.limit !== 'not-known'
    ? 'it can wait as long as others, so any of them may be first'
    : whyBy[next.limit];
}

const whyWithout = (nuc: WaitingNuc, firstMs: number): string =>
  firstMs === Infinity
    ? 'no queen is left for it'
    : !canStillHaveHer(nuc, firstMs)
      ? 'the queens come after the day until which it can wait'
      : 'there are fewer queens than nucs, and the others can wait less long';
