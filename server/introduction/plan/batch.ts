/** Plans for a batch of nucs before anything is logged, and queens shared out among nucs that wait. */
import { splitBeforeArrivalDays, usualVisitHour } from '../../biology/figures.ts';
import { onDayAt } from '../calendar.ts';
import type { IntroductionMethod, StartingPoint } from '../log/facts.ts';
import { planIntroduction, type PlanOptions, type PlanStep } from './plan.ts';
import { foldIntroduction } from '../state.ts';

export interface BatchInput {
  readonly id: string;
  readonly startingPoint: StartingPoint;
  readonly method: IntroductionMethod;
  readonly timeZone: string;
  /** Backward from the queens' arrival, or forward from the split. */
  readonly by: { readonly arrivalMs: number } | { readonly splitMs: number; readonly arrivalMs?: number };
  readonly nowMs: number;
}

/** Starts that begin with an act of the keeper on the day of the split: it, or the old queen taken away. */
const begins: ReadonlySet<StartingPoint> = new Set([
  'planned-split',
  'own-laying-queen',
  'requeened-in-place',
]);

/** Split and steps of one nuc of the batch; all nucs of a batch share the dates. */
export function planBatch(
  input: BatchInput,
  options: PlanOptions = {},
): { readonly splitMs: number; readonly steps: readonly PlanStep[] } {
  const hour = options.visitHour ?? usualVisitHour.value;
  const splitMs =
    'splitMs' in input.by
      ? input.by.splitMs
      : Math.max(
          onDayAt(input.by.arrivalMs, -splitBeforeArrivalDays.value, hour, input.timeZone),
          // The best day may be over: today, then.
          onDayAt(input.nowMs, 0, hour, input.timeZone),
        );
  const arrivalMs = input.by.arrivalMs;
  const state = foldIntroduction(
    {
      id: input.id,
      nucId: input.id,
      startingPoint: input.startingPoint,
      method: input.method,
      timeZone: input.timeZone,
      openedAtMs: splitMs,
      ...(begins.has(input.startingPoint) ? { plannedSplitMs: splitMs } : {}),
      ...(arrivalMs === undefined ? {} : { expectedQueenMs: arrivalMs }),
    },
    [],
    Math.min(input.nowMs, splitMs),
  );
  return { splitMs, steps: planIntroduction(state, options) };
}
