/** A nuc in which a queen may be is given neither brood nor another queen: the alert says what the list of choices says. */
import { expect, it } from 'vitest';
import { layingWorkerDate } from '../../server/rules/catalogue/queen/laying-worker-date.ts';
import { limitsFor, noLimitSettings } from '../../server/rules/engine/limits.ts';
import type { NucAnalysis } from '../../server/watch/nuc-analysis.ts';
import { stageFacts } from '../../server/watch/stage-facts.ts';
import { inWords } from '../../server/words/phrase.ts';
import type { Entries } from '../introduction/support/conditions.ts';
import { at, facts, stateAt, zone } from '../introduction/support/field-log.ts';
import { nucInput, nucSubject } from '../rules/made-up.ts';

const cleared: Entries = [
  [at(0), facts.split()],
  [at(7), facts.cut({ sealed: 9 })],
  [at(10), facts.cut()],
];
const now = at(20);
function todo(log: Entries): string {
  const state = stateAt(log, now);
  const introduction = stageFacts({
    state,
    chanceLimit: 0.05,
    signals: null,
    gates: [],
  } as unknown as NucAnalysis);
  const { message } = layingWorkerDate.evaluate(
    nucInput({ introduction, signals: null, nowMs: now }),
    limitsFor(layingWorkerDate, nucSubject, noLimitSettings),
  );
  return inWords(message?.todo ?? '', { timeZone: zone, temperature: 'C', weight: 'kg' });
}

it('where none need be feared a queen or brood is given', () => {
  expect(todo(cleared)).toContain('Give it a frame with eggs');
});

it('where a virgin was seen she is found first', () => {
  const said = todo([...cleared, [at(12), facts.inspection({ virginSeen: true })]]);
  expect(said).toContain('A queen may be in it');
  expect(said).not.toContain('Give it');
});
