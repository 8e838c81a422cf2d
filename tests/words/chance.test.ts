import { expect, it } from 'vitest';
import { chanceInWords, chancesBeside, percentInWords } from '../../server/words/chance.ts';

it.each([
  [0, 'under 0.5 %'],
  [0.0049, 'under 0.5 %'],
  [0.005, '0.5 %'],
  [0.046, '4.6 %'],
  [0.0996, '10 %'],
  [0.31, '31 %'],
  [0.994, '99 %'],
  // Only what is certain reads as certain.
  [0.996, 'over 99 %'],
  [1, '100 %'],
])('a chance of %d is said as %s', (chance, words) => {
  expect(chanceInWords(chance)).toBe(words);
});

it.each([
  [0.0503, 0.05, 'just over 5.0 %'],
  [0.0499, 0.05, 'just under 5.0 %'],
  [0.05, 0.05, '5.0 %'],
  [0.06, 0.05, '6.0 %'],
])('a chance of %d beside a limit of %d is said as %s', (chance, limit, words) => {
  expect(chancesBeside(limit)(chance)).toBe(words);
});

it.each([
  [0, '0 %'],
  [0.4, 'under 1 %'],
  [0.5, '1 %'],
  [99.4, '99 %'],
  [99.6, 'over 99 %'],
  [100, '100 %'],
])('%d in a hundred is said as %s', (value, words) => {
  expect(percentInWords(value)).toBe(words);
});
