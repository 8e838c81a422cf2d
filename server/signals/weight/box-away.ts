/** Whether the box is off its scale: what the scale weighs then is not the nuc. */
import { lowEnd } from '../../biology/figure.ts';
import { broodNestC } from '../../biology/thermal-figures.ts';
import { between, hourMs, minuteMs } from '../series.ts';
import type { Series, WeightStep } from '../types.ts';

/** Method: a later step that brings back more than this share of what left is the box put back. */
const backShare = 0.5;

export const isPutBack = (away: WeightStep, steps: readonly WeightStep[]): boolean =>
  steps.some(({ atMs, sizeG }) => atMs > away.atMs && sizeG > -backShare * away.sizeG);

/** The step with which the box left its scale, or fell beside it, and has not come back; undefined where it stands on it. */
export const boxAway = (steps: readonly WeightStep[]): WeightStep | undefined =>
  steps.findLast((step) => (step.kind === 'gone' || step.kind === 'toppled') && !isPutBack(step, steps));

/** Method: by then a probe pulled out of a nest is as cold as the air, and one that was carried off is out of reach. */
const carriedOffMs = 15 * minuteMs;
/** Method: until then it tells. */
const tellsMs = 3 * hourMs;
/** Method: a nest that is not disturbed does not fall so far under its band within those hours, K; one that lies in the open does. */
const openFallK = 3;

/**
 * Steps as a brood probe that still reports bears them out: where it reads a warm nest well after the scale lost the box, the box
 * is there, and the scale lost its zero. One that was blown off cools within those hours; one that was carried off with its
 * probe may stay warm, too.
 */
export const besideTheNest = (
  steps: readonly WeightStep[],
  broodC: Series | undefined,
): readonly WeightStep[] =>
  steps.map((step) => {
    if (step.kind !== 'gone' || !broodC) return step;
    const sinceMs = (step.untilMs ?? step.atMs) + carriedOffMs;
    const after = between(broodC, sinceMs, sinceMs + tellsMs).value;
    const warmC = lowEnd(broodNestC);
    const isWarm = after.some((tempC) => tempC >= warmC) && (after.at(-1) as number) >= warmC - openFallK;
    return isWarm ? { ...step, kind: 'zeroed' } : step;
  });
