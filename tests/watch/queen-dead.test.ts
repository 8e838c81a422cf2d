/** A nuc whose queen is known dead waits for the next one: nothing is told of how it would accept her. */
import { expect, it } from 'vitest';
import type { FactPayload } from '../../server/introduction/log/facts.ts';
import { tooStrongToAccept } from '../../server/rules/catalogue/queen/too-strong-to-accept.ts';
import { limitsFor, noLimitSettings } from '../../server/rules/engine/limits.ts';
import type { NucAnalysis } from '../../server/watch/nuc-analysis.ts';
import { stageFacts } from '../../server/watch/stage-facts.ts';
import { at, facts, stateAt } from '../introduction/support/field-log.ts';
import { nucInput, nucSubject } from '../rules/made-up.ts';

type Entry = readonly [number, FactPayload];

const split: Entry = [at(0), facts.split({ framesOfBees: 8 })];
const dead: Entry = [at(8), facts.arrived({ condition: 'dead' })];

const told = (...log: readonly Entry[]) => {
  const state = stateAt(log, at(10));
  const introduction = stageFacts({ state, signals: null, gates: [] } as unknown as NucAnalysis);
  const input = nucInput({ introduction, signals: null, nowMs: at(10) });
  return tooStrongToAccept.evaluate(input, limitsFor(tooStrongToAccept, nucSubject, noLimitSettings)).verdict;
};

it('is told that it is too strong before she comes, and once the next one is there', () => {
  expect(told(split)).toBe('yes');
  expect(told(split, dead, [at(9), facts.arrived({ queenId: 'queen-two' })])).toBe('yes');
});

it('is not told so while its queen is dead', () => {
  expect(told(split, dead)).toBe('not-applicable');
});
