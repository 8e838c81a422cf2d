/** An entry to be written again, as it reads after its corrections. */
import { expect, it } from 'vitest';
import { asItStands } from '../../dashboard/visit/as-it-stands.ts';
import type { NucDetail } from '../../server/contract/nucs.ts';
import type { LogEntry } from '../../server/introduction/log/facts.ts';

const envelope = { introductionId: 'intro-one', happenedAtMs: 9, writtenAtMs: 9 };
const log = (
  [
    { ...envelope, id: 'fact-one', type: 'fact', happenedAtMs: 1, fact: { kind: 'queen-dead' } },
    { ...envelope, id: 'note', type: 'correction', corrects: 'fact-one', replacement: { kind: 'note' } },
    { ...envelope, id: 'time', type: 'correction', corrects: 'note', replacementHappenedAtMs: 2 },
    { ...envelope, id: 'loop-a', type: 'correction', corrects: 'loop-b' },
    { ...envelope, id: 'loop-b', type: 'correction', corrects: 'loop-a' },
  ] as const satisfies readonly LogEntry[]
).map((entry): NucDetail['log'][number] => ({ entry, text: '', happenedAt: '', day: 0, withdrawn: false }));

it.each([
  ['fact-one', { fact: { kind: 'queen-dead' }, happenedAtMs: 1 }],
  ['note', { fact: { kind: 'note' }, happenedAtMs: 1 }],
  ['time', { fact: { kind: 'note' }, happenedAtMs: 2 }],
  ['loop-a', undefined],
  ['not-there', undefined],
])('%s', (id, expected) => {
  const found = asItStands(log, id);
  expect(found && { fact: found.fact, happenedAtMs: found.happenedAtMs }).toEqual(expected);
});
