/** What rules ask again and again about where an introduction stands. */
import type { NucSignals, WeightStep } from '../../signals/types.ts';
import type { PlannedVisit, StageFacts } from '../engine/inputs.ts';

/** From the split until the first complete cut the departure of the foragers is worth knowing. */
export const waitsForForagers = (stage: StageFacts | null): stage is StageFacts & { splitAtMs: number } =>
  stage !== null &&
  stage.splitAtMs !== null &&
  stage.completeCutAtMs === null &&
  (stage.stage === 'queenless' || stage.stage === 'caged');

export const isUnderWay = (stage: StageFacts | null): stage is StageFacts =>
  stage !== null && stage.stage !== 'planned' && stage.stage !== 'over';

/** A look now can get the queen killed: help comes from outside, or from above without lifting a frame. */
export const staysShut = (stage: StageFacts | null): boolean => stage?.stage === 'hands-off';

/** Before the candy end is open: what has to be put right for the queen can still be put right. */
export const isBeforeRelease = (stage: StageFacts | null): stage is StageFacts =>
  isUnderWay(stage) && stage.candyOpenedAtMs === null;

/** Steps that somebody may make at the nuc, not done and not blocked, the nearest first. The queen comes by herself. */
export const visitsOf = (plan: readonly PlannedVisit[]): PlannedVisit[] =>
  plan
    .filter(({ done, kind, blockedBy }) => !done && blockedBy === undefined && kind !== 'queen-arrives')
    .sort((a, b) => a.targetMs - b.targetMs);

/** The next step of a kind that is not done. */
export const nextStep = (plan: readonly PlannedVisit[], kind: string): PlannedVisit | undefined =>
  plan.find((step) => step.kind === kind && !step.done);

/** The newest weight step of these kinds, not explained by a logged event, within the last `withinH` hours. */
export function unexplainedStep(
  signals: NucSignals | null,
  kinds: readonly WeightStep['kind'][],
  nowMs: number,
  withinH: number,
): WeightStep | undefined {
  return signals?.steps.findLast(
    ({ kind, atMs, explainedBy }) =>
      !explainedBy && kinds.includes(kind) && atMs <= nowMs && nowMs - atMs <= withinH * 3_600_000,
  );
}
