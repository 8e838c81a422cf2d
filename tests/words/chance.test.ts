import { expect, it } from 'vitest';
import { chanceInWords } from '../../server/words/chance.ts';

it.each([
  [0, 'under 1 %'],
  [0.0049, 'under 1 %'],
  [0.005, '0.5 %'],
  [0.046, '4.6 %'],
  [0.31, '31 %'],
  [1, '100 %'],
])('a chance of %d is said as %s', (chance, words) => {
  expect(chanceInWords(chance)).toBe(words);
});
