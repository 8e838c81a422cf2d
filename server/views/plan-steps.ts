/** Plan steps on the wire. */
import { dueAheadMs, type PlanStep } from '../introduction/plan-step.ts';
import type { PlanStepDto } from '../contract/nucs.ts';
import type { NucAnalysis } from '../watch/nuc-analysis.ts';
import { inWords } from '../words/phrase.ts';
import { iso } from '../farm/wire.ts';

/** Overdue once its window is over. */
export function stepState(step: PlanStep, nowMs: number): PlanStepDto['state'] {
  if (step.done) return 'done';
  if (step.blocked || step.offered) return 'planned';
  if (nowMs > step.latestMs) return 'overdue';
  return nowMs >= Math.max(step.earliestMs, step.targetMs - dueAheadMs) ? 'due' : 'planned';
}

export function stepToWire(
  { nuc, site, display }: Pick<NucAnalysis, 'nuc' | 'site' | 'display'>,
  step: PlanStep,
  nowMs: number,
): PlanStepDto {
  return {
    id: step.id,
    nucId: nuc.id,
    nucName: nuc.name,
    siteId: site.id,
    siteName: site.name,
    kind: step.kind,
    label: step.label,
    logAs: step.logAs,
    earliest: iso(step.earliestMs),
    target: iso(step.done?.atMs ?? step.targetMs),
    latest: iso(step.latestMs),
    state: stepState(step, nowMs),
    ...(step.blocked ? { blockedBy: step.blocked.by } : {}),
    ...(step.offered ? { offered: true } : {}),
    whatToDo: step.whatToDo,
    whatToBring: [...step.whatToBring],
    why: step.why.map((words) => inWords(words, display)),
    clashes: [...step.clashes],
  };
}
