/** What is said beside a choice of a nuc that waits for its queen. */
import { expect, it } from 'vitest';
import { fitWords } from '../../dashboard/plan/choice-words.ts';
import type { Waiting } from '../../server/contract/waiting.ts';

const choice = (kind: Waiting['choices'][number]['kind'], fits: boolean) => ({
  kind,
  fits,
  on: null,
  text: '',
});
const [wait, brood, anew] = [choice('wait', false), choice('brood-frame', true), choice('start-anew', true)];

it('names the first that fits, and what is not in time for a queen who comes', () => {
  const of = { choices: [wait, brood, anew], comesOn: '2027-06-01' };
  expect(of.choices.map((one) => fitWords(one, of))).toEqual([' (not in time)', ' (first choice)', '']);
});

it('says of nothing that it is not in time where no queen is to come', () => {
  const of = { choices: [wait, brood, anew], comesOn: null };
  expect(of.choices.map((one) => fitWords(one, of))).toEqual(['', ' (first choice)', '']);
});
