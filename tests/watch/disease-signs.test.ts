/** Signs of brood disease stand from the first that was logged until they are ruled out, whatever else is logged. */
import { expect, it } from 'vitest';
import type { FactPayload } from '../../server/introduction/log/facts.ts';
import { diseaseSigns } from '../../server/watch/stage-facts.ts';
import { at } from '../introduction/support/field-log.ts';

type Found = Extract<FactPayload, { kind: 'brood-disease' }>['found'];
const log = (...entries: readonly (readonly [number, Found | 'note'])[]) => ({
  facts: entries.map(([day, found], i) => ({
    ...{ id: `entry-${String(i)}`, by: undefined, note: undefined, atMs: at(day) },
    fact: found === 'note' ? { kind: 'note' as const } : { kind: 'brood-disease' as const, found },
  })),
});

it.each([
  ['nothing logged', log([1, 'note']), null],
  ['seen once', log([1, 'note'], [3, 'signs']), at(3)],
  ['seen twice: since the first', log([3, 'signs'], [5, 'signs'], [6, 'note']), at(3)],
  ['ruled out', log([3, 'signs'], [9, 'ruled-out']), null],
  ['seen again after that', log([3, 'signs'], [9, 'ruled-out'], [12, 'signs'], [13, 'signs']), at(12)],
])('%s', (_name, state, sinceMs) => {
  expect(diseaseSigns(state as unknown as Parameters<typeof diseaseSigns>[0])).toBe(sinceMs);
});
