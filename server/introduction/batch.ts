/** Plans for a batch of nucs before anything is logged, and queens shared out among nucs that wait. */
import { splitBeforeArrivalDays } from '../biology/figures.ts';
import { onDayAt } from './calendar.ts';
import type { IntroductionMethod, StartingPoint } from './facts.ts';
import { planIntroduction, type PlanOptions, type PlanStep } from './plan.ts';
import { foldIntroduction } from './state.ts';

export interface BatchInput {
  readonly id: string;
  readonly startingPoint: StartingPoint;
  readonly method: IntroductionMethod;
  readonly timeZone: string;
  /** Backward from the queens' arrival, or forward from the split. */
  readonly by: { readonly arrivalMs: number } | { readonly splitMs: number; readonly arrivalMs?: number };
  readonly nowMs: number;
}

/** Split and steps of one nuc of the batch; all nucs of a batch share the dates. */
export function planBatch(
  input: BatchInput,
  options: PlanOptions = {},
): { readonly splitMs: number; readonly steps: readonly PlanStep[] } {
  const hour = options.visitHour ?? 10;
  const splitMs =
    'splitMs' in input.by
      ? input.by.splitMs
      : onDayAt(input.by.arrivalMs, -splitBeforeArrivalDays.value, hour, input.timeZone);
  const arrivalMs = input.by.arrivalMs;
  const state = foldIntroduction(
    {
      id: input.id,
      nucId: input.id,
      startingPoint: input.startingPoint,
      method: input.method,
      timeZone: input.timeZone,
      openedAtMs: splitMs,
      plannedSplitMs: splitMs,
      ...(arrivalMs === undefined ? {} : { expectedQueenMs: arrivalMs }),
    },
    [],
    Math.min(input.nowMs, splitMs),
  );
  return { splitMs, steps: planIntroduction(state, options) };
}

/** A nuc that wants a queen: from when on she may hang in it, and how long it can wait for her. */
export interface WaitingNuc {
  readonly nucId: string;
  readonly readyFromMs: number;
  readonly waitsUntilMs: number;
}

export interface QueenAtHand {
  readonly queenId: string;
  readonly fromMs: number;
}

export interface QueensShared {
  readonly pairs: readonly {
    readonly nucId: string;
    readonly queenId: string;
    readonly hangFromMs: number;
  }[];
  readonly nucsWithout: readonly { readonly nucId: string; readonly why: string }[];
  readonly queensOver: readonly string[];
}

/** Queens in the order of arrival go to the nuc that can wait least of those that can still wait. */
export function shareQueens(nucs: readonly WaitingNuc[], queens: readonly QueenAtHand[]): QueensShared {
  const waiting = new Map(nucs.map((nuc) => [nuc.nucId, nuc]));
  const pairs: { nucId: string; queenId: string; hangFromMs: number }[] = [];
  const over: string[] = [];
  for (const queen of queens.toSorted((a, b) => a.fromMs - b.fromMs || (a.queenId < b.queenId ? -1 : 1))) {
    const next = [...waiting.values()]
      .filter((nuc) => nuc.waitsUntilMs >= queen.fromMs)
      .toSorted((a, b) => a.waitsUntilMs - b.waitsUntilMs || (a.nucId < b.nucId ? -1 : 1))[0];
    if (!next) {
      over.push(queen.queenId);
      continue;
    }
    waiting.delete(next.nucId);
    pairs.push({
      nucId: next.nucId,
      queenId: queen.queenId,
      hangFromMs: Math.max(queen.fromMs, next.readyFromMs),
    });
  }
  const lastMs = Math.max(...queens.map((queen) => queen.fromMs), -Infinity);
  return {
    pairs,
    queensOver: over,
    nucsWithout: [...waiting.values()].map((nuc) => ({
      nucId: nuc.nucId,
      why:
        lastMs > nuc.waitsUntilMs
          ? 'the queens come after the day until which it can wait'
          : 'there are fewer queens than nucs',
    })),
  };
}
