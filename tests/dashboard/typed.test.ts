/** Numbers as people type them: with a point or a comma, and never a thousandfold off. */
import { expect, it } from 'vitest';
import { numberFault, typedNumber } from '../../dashboard/format/typed.ts';

it.each<[string, number, number]>([
  // Typed, read where the decimal sign is a point, read where it is a comma.
  ['12.437', 12.437, 12.437],
  ['12,4', 12.4, 12.4],
  ['0,125', 0.125, 0.125],
  ['1234', 1234, 1234],
  ['1,234', NaN, 1.234],
  ['-1,234', NaN, -1.234],
  [' 12,437 ', NaN, 12.437],
  ['1234,567', 1234.567, 1234.567],
  ['1,234.5', NaN, NaN],
  ['1.234,5', NaN, NaN],
  ['1,234,567', NaN, NaN],
  ['', NaN, NaN],
  ['ten', NaN, NaN],
])('%s is %d with a decimal point, %d with a decimal comma', (text, point, comma) => {
  expect(typedNumber(text, false)).toBe(point);
  expect(typedNumber(text, true)).toBe(comma);
});

it('says how to write what can be read in two ways', () => {
  expect(numberFault('1,234', false)).toBe('Write 1234 or 1.234: the comma can mean either.');
  expect(numberFault('1,234', true)).toBeUndefined();
  expect(numberFault('12,4', false)).toBeUndefined();
});
