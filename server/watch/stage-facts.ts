/** An introduction's state as the rules read it. */
import { rivalChanceLimit } from '../biology/figures.ts';
import { chanceIsSmall } from '../introduction/cells/virgin-risk.ts';
import { queenMayBeIn } from '../introduction/acts/days/late-queen.ts';
import { earliestLook } from '../introduction/queen/earliest-look.ts';
import type { PlanStep } from '../introduction/acts/plan-step.ts';
import type { Stage } from '../introduction/stage.ts';
import { stageWords, type StageWords } from '../introduction/stage-words.ts';
import type { IntroductionState } from '../introduction/state.ts';
import type { PlannedVisit, StageFacts } from '../rules/engine/inputs.ts';
import { withLater } from '../lazily.ts';
import type { NucSignals } from '../signals/types.ts';
import { beesNow } from './bees-now.ts';
import type { NucAnalysis } from './nuc-analysis.ts';

const ruleStage: Readonly<Record<Stage, StageFacts['stage']>> = {
  planned: 'planned',
  'foragers-leaving': 'queenless',
  'waiting-to-cut': 'queenless',
  'second-look-due': 'queenless',
  'waiting-for-queen': 'queenless',
  caged: 'caged',
  'candy-open': 'hands-off',
  'hands-off': 'hands-off',
  'check-due': 'check-due',
  accepted: 'laying',
  failed: 'over',
  closed: 'over',
};

/** The stage in words, as its log and its scale tell it. */
export const stageNow = (state: IntroductionState, signals: NucSignals | null): StageWords =>
  stageWords(state, signals?.drift.state === 'gone');

export function stageFacts(analysis: NucAnalysis): StageFacts | null {
  const { state, chanceLimit } = analysis;
  if (!state) return null;
  const { queen, windows, looks, split, evidence, dayNumber, stage } = state;
  const released = queen.releasedAtMs;
  const { name } = stageNow(state, analysis.signals);
  const known = {
    stage: isCaged(state) ? 'caged' : ruleStage[stage],
    words: dayNumber === null ? name : `${name}, day ${String(dayNumber)}`,
    splitAtMs: split?.atMs ?? null,
    queenlessSinceMs: evidence.queenlessSince.earliestMs,
    queenCagedSinceMs: queen.inCageSinceMs,
    ...(queen.arrivedAtMs === null ? {} : { queenArrivedMs: queen.arrivedAtMs }),
    ...(queen.daysInPost === null ? {} : { daysInPost: queen.daysInPost }),
    candyOpenedAtMs: released,
    ...(queen.where === 'dead' ? { queenDead: true as const } : {}),
    handsOffUntilMs:
      released === null
        ? null
        : earliestLook({ ...queen, releasedAtMs: released }, state.setup.method, state.setup.timeZone)
            .leastMs,
    virgin: {
      loose: chanceIsSmall(state.virgin, chanceLimit ?? rivalChanceLimit.value)
        ? 'excluded'
        : state.virgin.loose,
      possibleFromMs: state.virgin.possibleFromMs,
      why: state.virgin.why,
      settledBy: state.virgin.settledBy,
    },
    completeCutAtMs: looks.complete.at(-1)?.atMs ?? null,
    layingWorkersWatchMs: windows.layingWorkersWatchFromMs,
    layingWorkersLikelyMs: windows.layingWorkersLikelyFromMs,
    ...(state.signs.layingWorkers ? { layingWorkersSeen: true as const } : {}),
    lookedForLayingWorkersMs: state.signs.suspected ? null : state.signs.lookedForLayingWorkersAtMs,
    oldBroodUntilMs: windows.sealedBroodUntilMs,
    ...(queenMayBeIn(state) ? { queenMayBeIn: true as const } : {}),
    broodChangesAtMs: state.broodNow.untilMs,
    diseaseSignsAtMs: state.signs.diseaseAtMs,
  };
  return withLater(known, {
    mayOpenCandy: () => analysis.gates.find(({ gate }) => gate === 'open-candy')?.answer ?? null,
    bees: () => beesNow(state, analysis.signals),
  });
}

/** A queen hangs in the nuc while cells are still being cut: the rules look after her as well. */
const isCaged = ({ queen, stage }: IntroductionState): boolean =>
  queen.inCageSinceMs !== null && ruleStage[stage] === 'queenless';

export const plannedVisits = (plan: readonly PlanStep[]): PlannedVisit[] =>
  plan
    .filter(({ offered }) => !offered)
    .map(({ id, kind, label, why: [why], earliestMs, targetMs, latestMs, done, blocked }) => ({
      id,
      kind,
      whatToDo: label,
      ...(why === undefined ? {} : { why }),
      earliestMs,
      targetMs,
      latestMs,
      done: done !== undefined,
      ...(blocked ? { blockedBy: blocked.by } : {}),
    }));
