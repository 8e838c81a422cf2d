/** Taking a virgin away says nothing about a laying queen: what spoke for one still stands, and the gate stays shut. */
import { describe, expect, it } from 'vitest';
import type { FactPayload } from '../../server/introduction/log/facts.ts';
import { noEvidence } from '../../server/introduction/acts/gate.ts';
import { mayOpenCandy } from './support/gates.ts';
import { at, facts, stateAt } from './support/field-log.ts';

const removed = (which: 'old-queen' | 'virgin'): FactPayload => ({ kind: 'queen-removed', which });

describe('after a queen was taken away', () => {
  it.each([
    ['virgin', 'contradicted'],
    ['old-queen', 'shown'],
  ] as const)('%s: a laying queen seen before leaves it %s that the nuc is queenless', (which, queenless) => {
    const log = [
      [at(0), facts.split({ oldQueen: 'not-seen' })],
      [at(5), facts.inspection({ layingQueenSeen: true })],
      [at(5, 11), removed(which)],
    ] as const;
    expect(stateAt(log, at(5, 12)).evidence.queenless).toBe(queenless);
  });

  it('virgin: eggs out of time go on contradicting', () => {
    const log = [
      [at(0), facts.split()],
      [at(7), facts.cut({ sealed: 4 })],
      [at(8), facts.inspection({ youngestBrood: 'eggs' })],
      [at(8, 11), removed('virgin')],
    ] as const;
    expect(stateAt(log, at(8, 12)).evidence.queenless).toBe('contradicted');
  });

  it('virgin: does not by itself show that the nuc is queenless', () => {
    const log = [
      [at(0), facts.split({ oldQueen: 'not-seen' })],
      [at(5), removed('virgin')],
    ] as const;
    const state = stateAt(log, at(6));
    expect(state.evidence.queenless).not.toBe('shown');
    expect(mayOpenCandy(state, noEvidence, at(6)).answer).not.toBe('go');
  });
});
