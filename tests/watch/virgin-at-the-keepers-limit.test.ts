/** The chance that a virgin is out is held against the keeper's limit, in the alert as in the answer. */
import { expect, it } from 'vitest';
import { answerFor } from '../../server/introduction/acts/answer.ts';
import { noEvidence } from '../../server/introduction/acts/gate.ts';
import { virginMayBeOut } from '../../server/rules/catalogue/queen/virgin-may-be-out.ts';
import { limitsFor, noLimitSettings } from '../../server/rules/engine/limits.ts';
import type { NucAnalysis } from '../../server/watch/nuc-analysis.ts';
import { stageFacts } from '../../server/watch/stage-facts.ts';
import { at, facts, stateAt } from '../introduction/support/field-log.ts';
import { nucInput, nucSubject } from '../rules/made-up.ts';

/** Cut late on day 11: the chance that a virgin was out by then is some 7 %, by this tool's own reckoning. */
const state = stateAt(
  [
    [at(0), facts.split()],
    [at(6), facts.arrived()],
    [at(6, 11), facts.hung()],
    [at(11, 20), facts.cut({ sealed: 4 })],
    [at(14, 12), facts.cut()],
  ],
  at(15, 12),
);

const verdict = (chanceLimit: number) => {
  const introduction = stageFacts({ state, chanceLimit, signals: null, gates: [] } as unknown as NucAnalysis);
  const input = nucInput({ introduction, signals: null, nowMs: at(15, 12) });
  return virginMayBeOut.evaluate(input, limitsFor(virginMayBeOut, nucSubject, noLimitSettings)).verdict;
};
const mayOpen = (chanceLimit: number) =>
  answerFor(state, { ...noEvidence, chanceLimit }).permissionOf('open-candy').answer;

const frames = (chanceLimit: number) =>
  answerFor(state, { ...noEvidence, chanceLimit }).plan.filter(({ kind }) => kind === 'test-frame-in').length;

it('asks for a test frame where the answer stops for her, and for none where she may be let out', () => {
  expect([frames(0.05), frames(0.2)]).toEqual([1, 0]);
});

it('warns of a virgin where the answer stops for her', () => {
  expect([mayOpen(0.05), verdict(0.05)]).toEqual(['stop', 'yes']);
});

it('does not warn where she may be let out', () => {
  expect([mayOpen(0.2), verdict(0.2)]).toEqual(['go', 'no']);
});
