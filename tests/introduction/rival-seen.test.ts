/**
 * A virgin seen beside a queen that was let out: until she is taken away, or the queen is seen days later (common
 * practice: one kills the other within days).
 */
import { expect, it } from 'vitest';
import { lookAgainForQueenDays } from '../../server/biology/figures.ts';
import type { FactPayload } from '../../server/introduction/log/facts.ts';
import { rivalSeen, rivalToFind } from '../../server/introduction/cells/rival-seen.ts';
import { at, cleanEntries, facts, stateAt } from './support/field-log.ts';

type Entries = readonly (readonly [number, FactPayload])[];

const released: Entries = [...cleanEntries, [at(10, 12), facts.opened()]];
const seen = [at(17), facts.inspection({ virginSeen: true })] as const;
const taken = (which: 'virgin' | 'old-queen'): FactPayload => ({ kind: 'queen-removed', which });
const later = 17 + lookAgainForQueenDays.value;

it.each<readonly [string, Entries, boolean]>([
  [
    'before the release',
    [...cleanEntries.slice(0, 3), [at(9), facts.inspection({ virginSeen: true })]],
    false,
  ],
  [
    'before the release, the queen let out since',
    [
      ...cleanEntries.slice(0, 3),
      [at(9), facts.inspection({ virginSeen: true })],
      [at(10, 12), facts.opened()],
    ],
    false,
  ],
  ['in the minute of the release', [...released, [at(10, 12), facts.inspection({ virginSeen: true })]], true],
  ['a week after', [...released, seen], true],
  ['and taken away', [...released, seen, [at(17, 11), taken('virgin')]], false],
  ['and taken away in the same minute', [...released, seen, [at(17), taken('virgin')]], false],
  ['one was taken away before', [...released, [at(16), taken('virgin')], seen], true],
  ['an old queen was taken away after', [...released, seen, [at(17, 11), taken('old-queen')]], true],
  ['the queen was seen the next day', [...released, seen, [at(18), facts.looked()]], true],
  ['the queen was seen once it is decided', [...released, seen, [at(later), facts.looked()]], false],
  [
    'the queen was looked for then and not seen',
    [...released, seen, [at(later), facts.looked({ queenSeen: false })]],
    true,
  ],
])('%s: %s', (_, log, expected) => {
  expect(rivalSeen(stateAt(log, at(30)))).toBe(expected);
});

it('is searched for once, on every frame', () => {
  const find = (log: Entries) => rivalToFind(stateAt([...released, seen, ...log], at(30)));
  expect(find([])).toBe(true);
  expect(find([[at(18), facts.inspection({ everyFrameChecked: false })]])).toBe(true);
  expect(find([[at(18), facts.inspection()]])).toBe(false);
});
