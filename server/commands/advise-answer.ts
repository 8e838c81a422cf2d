/** The answer to one set-up and log at an instant, without sensors: what `welcomb advise` writes. */
import { answerFor } from '../introduction/acts/answer.ts';
import { noEvidence, type Gate, type GateEvidence } from '../introduction/acts/gate.ts';
import { gatesOf } from '../introduction/gates/views.ts';
import type { PlanStep } from '../introduction/acts/plan-step.ts';
import { stageWords } from '../introduction/stage-words.ts';
import { foldIntroduction, type IntroductionState } from '../introduction/state.ts';
import { stepState } from '../views/plan/plan-steps.ts';
import { asSentence, setFor, type Say, type Sentence } from '../words/phrase.ts';
import type { Question } from './advise-input.ts';

export interface Advice {
  readonly state: IntroductionState;
  readonly gates: readonly Gate[];
  /** What its gate forbids is blocked. */
  readonly plan: readonly PlanStep[];
}

export function adviceOn({ setup, log, nowMs, chanceLimit }: Question): Advice {
  const evidence: GateEvidence = chanceLimit === undefined ? noEvidence : { ...noEvidence, chanceLimit };
  const state = foldIntroduction(setup, log, nowMs);
  const answer = answerFor(state, evidence);
  return { state, gates: gatesOf(answer), plan: answer.plan };
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
  const { name, line } = stageWords(state);
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
