/** Whether the box is off its scale: what the scale weighs then is not the nuc. */
import type { WeightStep } from '../types.ts';

/** Method: a later step that brings back more than this share of what left is the box put back. */
const backShare = 0.5;

export const isPutBack = (away: WeightStep, steps: readonly WeightStep[]): boolean =>
  steps.some(({ atMs, sizeG }) => atMs > away.atMs && sizeG > -backShare * away.sizeG);

/** The step with which the box left its scale, or fell beside it, and has not come back; undefined where it stands on it. */
export const boxAway = (steps: readonly WeightStep[]): WeightStep | undefined =>
  steps.findLast((step) => (step.kind === 'gone' || step.kind === 'toppled') && !isPutBack(step, steps));
