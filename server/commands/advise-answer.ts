/** The answer to one set-up and log at an instant, without sensors: what `welcomb advise` writes. */
import { blockedSteps } from '../introduction/blocked-steps.ts';
import { mayCutCells } from '../introduction/gates/cut-cells.ts';
import { noEvidence, type Gate, type GateEvidence } from '../introduction/gates/gate.ts';
import { mayHangCage } from '../introduction/gates/hang-cage.ts';
import { mayLookForQueen } from '../introduction/gates/look-for-queen.ts';
import { mayOpenCandy } from '../introduction/gates/open-candy.ts';
import { planIntroduction, type PlanStep } from '../introduction/plan.ts';
import { stageWords } from '../introduction/stage.ts';
import { foldIntroduction, type IntroductionState } from '../introduction/state.ts';
import { stepState } from '../views/plan-steps.ts';
import { asSentence, setFor, type Say, type Sentence } from '../words/phrase.ts';
import type { Question } from './advise-input.ts';

export interface Advice {
  readonly state: IntroductionState;
  readonly gates: readonly Gate[];
  /** What its gate forbids is blocked. */
  readonly plan: readonly PlanStep[];
}

export function adviceOn({ setup, log, nowMs, chanceLimit }: Question): Advice {
  const limit = chanceLimit === undefined ? {} : { chanceLimit };
  const evidence: GateEvidence = { ...noEvidence, ...limit };
  const state = foldIntroduction(setup, log, nowMs);
  const gates = [mayCutCells, mayHangCage, mayOpenCandy, mayLookForQueen].map((may) =>
    may(state, evidence, nowMs),
  );
  return { state, gates, plan: blockedSteps(planIntroduction(state, limit), gates, nowMs, setup.timeZone) };
}

const iso = (ms: number): string => new Date(ms).toISOString();
const isoOrNull = (ms: number | null | undefined): string | null => (ms == null ? null : iso(ms));

const gateToJson = (gate: Gate, sentence: (words: Sentence) => string): object => ({
  gate: gate.gate,
  answer: gate.answer,
  until: isoOrNull(gate.untilMs),
  headline: gate.headline,
  reasons: gate.reasons.map(({ ok, text }) => ({ ok, text: sentence(text) })),
});

const stepToJson = (step: PlanStep, nowMs: number, sentence: (words: Sentence) => string): object => ({
  kind: step.kind,
  label: step.label,
  state: stepState(step, nowMs),
  earliest: iso(step.earliestMs),
  target: iso(step.targetMs),
  latest: iso(step.latestMs),
  doneAt: isoOrNull(step.done?.atMs),
  blocked: step.blocked
    ? { answer: step.blocked.answer, by: step.blocked.by, until: isoOrNull(step.blocked.untilMs) }
    : null,
  logAs: step.logAs,
  whatToDo: step.whatToDo,
  whatToBring: step.whatToBring,
  why: step.why.map(sentence),
  clashes: step.clashes,
});

/** As plain data; instants in UTC, sentences set for the set-up's zone. */
export function adviceToJson({ state, gates, plan }: Advice): object {
  const { setup, nowMs, stage } = state;
  const say: Say = setFor({ timeZone: setup.timeZone, temperature: 'C', weight: 'kg' });
  const sentence = (words: Sentence): string => say(asSentence(words));
  const { name, line } = stageWords(stage, setup.method);
  return {
    now: iso(nowMs),
    stage,
    stageText: `${name}: ${line}`,
    day: state.dayNumber,
    due: plan.filter((step) => ['due', 'overdue'].includes(stepState(step, nowMs))).map(({ kind }) => kind),
    chance: gates.find(({ gate }) => gate === 'open-candy')?.chanceOfStandingCell ?? null,
    gates: gates.map((gate) => gateToJson(gate, sentence)),
    plan: plan.map((step) => stepToJson(step, nowMs, sentence)),
    contradictions: state.contradictions.map(({ text }) => sentence(text)),
  };
}
