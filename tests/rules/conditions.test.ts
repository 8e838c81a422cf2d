/** The comparisons of rules at, beside and without their limit, and how a page shows them. */
import { describe, expect, it } from 'vitest';
import { above, atLeast, atMost, below, holds, setCondition } from '../../server/rules/engine/conditions.ts';
import type { Display } from '../../server/words/phrase.ts';

const display: Display = { timeZone: 'UTC', temperature: 'C', weight: 'kg' };

describe('a comparison with the limit 5', () => {
  it.each([
    { name: 'at least', compare: atLeast, under: false, at: true, over: true },
    { name: 'at most', compare: atMost, under: true, at: true, over: false },
    { name: 'below', compare: below, under: true, at: false, over: false },
    { name: 'above', compare: above, under: false, at: false, over: true },
  ])('$name', ({ compare, under, at, over }) => {
    const met = (value: number | null) => compare('x', value, 5, '°C').met;
    expect({ under: met(4.9), at: met(5), over: met(5.1), unknown: met(null) }).toEqual({
      under,
      at,
      over,
      unknown: null,
    });
  });
});

describe('a condition on the page', () => {
  it.each([
    { what: 'a figure', condition: atLeast('cold', 31.5, 32, '°C'), value: '31.5 °C', limit: '32.0 °C' },
    { what: 'no figure', condition: atLeast('cold', null, 32, '°C'), value: 'not known', limit: '32.0 °C' },
    { what: 'words', condition: holds('flying', false, 'it rains', 'dry'), value: 'it rains', limit: 'dry' },
  ])('$what', ({ condition, value, limit }) => {
    const { name, met } = condition;
    expect(setCondition(condition, display)).toEqual({ name, met, value, limit });
  });
});
