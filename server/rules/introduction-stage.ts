/** What rules ask again and again about where an introduction stands. */
import type { PlannedVisit, StageFacts } from './inputs.ts';

/** From the split until the first complete cut the departure of the foragers is worth knowing. */
export const waitsForForagers = (stage: StageFacts | null): stage is StageFacts =>
  stage !== null &&
  stage.splitAtMs !== null &&
  stage.completeCutAtMs === null &&
  (stage.stage === 'queenless' || stage.stage === 'caged');

export const isUnderWay = (stage: StageFacts | null): stage is StageFacts =>
  stage !== null && stage.stage !== 'planned' && stage.stage !== 'over';

/** The next step of a kind that is not done. */
export const nextStep = (plan: readonly PlannedVisit[], kind: string): PlannedVisit | undefined =>
  plan.find((step) => step.kind === kind && !step.done);
