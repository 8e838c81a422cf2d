/** Signs of brood disease stand from the first that was logged until they are ruled out, whatever else is logged. */
import { expect, it } from 'vitest';
import type { FactPayload } from '../../server/introduction/log/facts.ts';
import { carryOver } from '../../server/introduction/carry-over.ts';
import { at, stateAt } from './support/field-log.ts';

type Found = Extract<FactPayload, { kind: 'brood-disease' }>['found'];
type Entries = readonly (readonly [day: number, Found | 'note'])[];

const since = (entries: Entries, carriedMs: number | null = null): number | null =>
  stateAt(
    entries.map(([day, found]) => [
      at(day),
      found === 'note' ? { kind: 'note' } : { kind: 'brood-disease', found },
    ]),
    at(20),
    carriedMs === null ? {} : { carried: carryOver(stateAt([[carriedMs, signs]], at(0))) },
  ).signs.diseaseAtMs;
const signs: FactPayload = { kind: 'brood-disease', found: 'signs' };

it.each<[string, Entries, number | null]>([
  ['nothing logged', [[1, 'note']], null],
  [
    'seen once',
    [
      [1, 'note'],
      [3, 'signs'],
    ],
    at(3),
  ],
  [
    'seen twice: since the first',
    [
      [3, 'signs'],
      [5, 'signs'],
      [6, 'note'],
    ],
    at(3),
  ],
  [
    'ruled out',
    [
      [3, 'signs'],
      [9, 'ruled-out'],
    ],
    null,
  ],
  [
    'seen again after that',
    [
      [3, 'signs'],
      [9, 'ruled-out'],
      [12, 'signs'],
      [13, 'signs'],
    ],
    at(12),
  ],
])('%s', (_name, entries, sinceMs) => {
  expect(since(entries)).toBe(sinceMs);
});

it('those of the introduction before stand, until they are ruled out in this one', () => {
  expect(since([[1, 'note']], at(-9))).toBe(at(-9));
  expect(since([[3, 'signs']], at(-9))).toBe(at(-9));
  expect(since([[3, 'ruled-out']], at(-9))).toBeNull();
});
