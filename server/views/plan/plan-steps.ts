/** Plan steps on the wire. */
import { goodToKnow } from '../../introduction/acts/good-to-know.ts';
import { dueAheadMs, type PlanStep } from '../../introduction/acts/plan-step.ts';
import type { PlanStepDto } from '../../contract/nucs.ts';
import type { NucAnalysis } from '../../watch/nuc-analysis.ts';
import { inWords } from '../../words/phrase.ts';
import { iso } from '../../farm/wire.ts';

/** Overdue once its window is over. */
export function stepState(step: PlanStep, nowMs: number): PlanStepDto['state'] {
  if (step.done) return 'done';
  if (step.blocked || step.offered) return 'planned';
  if (nowMs > step.latestMs) return 'overdue';
  return nowMs >= Math.max(step.earliestMs, step.targetMs - dueAheadMs) ? 'due' : 'planned';
}

/** What is done is worded otherwise than what is planned. */
const doneWords: Readonly<Record<string, string>> = {
  split: 'Split made',
  'queen-arrives': 'Queen arrived',
  'cut-cells': 'Cells cut',
  'hang-cage': 'Cage hung',
  'second-look': 'Second look made',
  'one-more-look': 'One more look made',
  'test-frame-in': 'Test frame put in',
  'test-frame-out': 'Test frame taken out',
  'open-candy': 'Candy end opened',
  'look-for-queen': 'Looked for the queen',
  'look-again': 'Looked again for eggs',
  'check-sealed-brood': 'Sealed brood checked',
};
const doneUnderMesh: Readonly<Record<string, string>> = {
  'hang-cage': 'Mesh pressed over her',
  'open-candy': 'Mesh lifted',
};

export function stepLabel({ kind, label, done }: PlanStep, mesh: boolean): string {
  return done ? ((mesh ? doneUnderMesh[kind] : undefined) ?? doneWords[kind] ?? label) : label;
}

export function stepToWire(
  { nuc, site, display, setup }: Pick<NucAnalysis, 'nuc' | 'site' | 'display' | 'setup'>,
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
    label: stepLabel(step, setup?.method === 'push-in-cage'),
    logAs: step.logAs,
    earliest: iso(step.earliestMs),
    target: iso(step.done?.atMs ?? step.targetMs),
    latest: iso(step.latestMs),
    state: stepState(step, nowMs),
    ...(step.blocked ? { blockedBy: step.blocked.by } : {}),
    ...(step.offered ? { offered: true } : {}),
    ...(step.afterArrivalDays === undefined ? {} : { afterArrivalDays: step.afterArrivalDays }),
    whatToDo: step.whatToDo,
    whatToBring: [...step.whatToBring],
    why: step.why.map((words) => inWords(words, display)),
    ...(step.done
      ? {}
      : {
          goodToKnow: goodToKnow(step.kind, setup?.method ?? 'candy-cage').map(({ text, source }) => ({
            text,
            source,
          })),
        }),
    clashes: [...step.clashes],
  };
}
