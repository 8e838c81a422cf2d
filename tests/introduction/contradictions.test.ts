/** What was done with the queen and can't all be true, and the entries that each finding rests on. */
import { expect, it } from 'vitest';
import type { FactPayload } from '../../server/introduction/log/facts.ts';
import { at, facts, stateAt } from './support/field-log.ts';

type Entries = readonly (readonly [number, FactPayload])[];
/** What is found, and the days of its entries. */
type Finding = readonly [kind: string, ...days: readonly number[]];

const hung = (day: number, queenId = 'queen-one'): Entries[number] => [at(day), facts.hung({ queenId })];
const opened = (day: number): Entries[number] => [at(day), facts.opened()];
const out = (day: number): Entries[number] => [at(day), { kind: 'cage-taken-out' }];
const dead = (day: number): Entries[number] => [at(day), { kind: 'queen-dead' }];
const looked = (day: number, queenSeen: boolean, cageEmpty = true): Entries[number] => [
  at(day),
  facts.looked({ queenSeen, cageEmpty, eggsSeen: false }),
];

it.each<readonly [name: string, log: Entries, findings: readonly Finding[]]>([
  ['hung, opened, out of the cage', [hung(7), opened(10), looked(17, true)], []],
  ['opened, and no cage hung', [opened(10)], [['opened-without-cage', 10]]],
  ['opened once the cage was taken out', [hung(7), out(9), opened(10)], [['opened-without-cage', 10]]],
  [
    'the cage is empty and was never opened',
    [hung(7), looked(12, true)],
    [['empty-cage-before-opening', 7, 12]],
  ],
  ['she sits in the cage that was never opened', [hung(7), looked(12, true, false)], []],
  [
    'the cage is empty, its candy open from the start',
    [[at(7), facts.hung({ candyEnd: 'open' })], looked(12, true)],
    [],
  ],
  [
    'the cage is empty, another was open before it',
    [[at(5), facts.hung({ candyEnd: 'open' })], out(6), hung(7), looked(12, true)],
    [['empty-cage-before-opening', 7, 12]],
  ],
  ['taken out of the cage and seen', [hung(7), out(10), looked(17, true)], []],

  ['seen after she was logged as dead', [hung(7), dead(8), looked(17, true)], [['queen-after-death', 8, 17]]],
  ['logged as dead and not seen', [hung(7), dead(8), looked(17, false)], []],
  [
    'seen after she lay dead in the cage',
    [hung(7), [at(9), facts.atCage({ queenAlive: false })], looked(17, true)],
    [['queen-after-death', 9, 17]],
  ],
  [
    'seen after bees balled her to death',
    [hung(7), opened(10), [at(11), { kind: 'balled', rescued: false }], looked(17, true)],
    [['queen-after-death', 11, 17]],
  ],
  [
    'seen after she was saved from a ball',
    [hung(7), opened(10), [at(11), { kind: 'balled', rescued: true }], looked(17, true)],
    [],
  ],
  [
    'one dies, the next is hung and seen',
    [hung(7), dead(8), hung(9, 'queen-two'), opened(12), looked(19, true)],
    [],
  ],
  [
    'one dies, the next escapes into the nuc as she is to be hung, and is seen',
    [
      hung(7),
      dead(8),
      [at(10), facts.arrived({ queenId: 'queen-two' })],
      [at(10, 11), { kind: 'queen-escaped', to: 'into-the-nuc' }],
      looked(17, true),
    ],
    [],
  ],
  [
    'one dies, and the cage with her in it is taken out',
    [hung(7), dead(8), out(8), looked(17, true)],
    [['queen-after-death', 8, 17]],
  ],

  ['a second hung beside the first', [hung(7), hung(8, 'queen-two')], [['two-queens-in-cages', 7, 8]]],
  ['the same hung again', [hung(7), hung(8)], []],
  ['a second hung once the first was let out', [hung(7), opened(10), hung(12, 'queen-two')], []],
  [
    'a second hung once the first escaped',
    [hung(7), [at(9), { kind: 'queen-escaped', to: 'outside' }], hung(12, 'queen-two')],
    [],
  ],
  [
    'and one of the two taken out: the other is let out',
    [hung(7), hung(8, 'queen-two'), out(9), opened(10)],
    [],
  ],
  [
    'and one of the two dies, then the other',
    [hung(7), hung(8, 'queen-two'), dead(9), dead(10), looked(17, true)],
    [['queen-after-death', 10, 17]],
  ],
  [
    'and one of the two found dead and logged as dead in that visit: the other is let out',
    [
      hung(7),
      hung(8, 'queen-two'),
      [at(9), facts.atCage({ queenAlive: false })] as const,
      [at(9, 10.5), { kind: 'queen-dead' }],
      opened(10),
    ],
    [],
  ],
  [
    'settled, with a finding before and one after it',
    [opened(5), hung(7), hung(8, 'queen-two'), looked(9, false), out(10)],
    [
      ['opened-without-cage', 5],
      ['empty-cage-before-opening', 8, 9],
    ],
  ],
])('%s', (_, log, findings) => {
  const split = [at(0), facts.split()] as const;
  const { contradictions, facts: folded } = stateAt([split, ...log], at(30));
  const dayOf = (id: string): number => (folded.find((f) => f.id === id)?.atMs ?? NaN) - at(0);
  expect(
    contradictions.map(({ kind, factIds }) => [kind, ...factIds.map((id) => dayOf(id) / 86_400_000)]),
  ).toEqual(findings);
  for (const { atMs, factIds } of contradictions) expect(atMs - at(0)).toBe(dayOf(factIds.at(-1)!));
});

it('a young larva in an open cell, when none that young can be left, names its entry', () => {
  const larva = facts.cut({ open: 1 }, { youngLarvaInOpenCell: true });
  const { contradictions } = stateAt(
    [
      [at(0), facts.split()],
      [at(12), larva],
    ],
    at(13),
  );
  expect(contradictions).toMatchObject([{ kind: 'young-larva-in-late-cell', factIds: ['intro-one-f001'] }]);
});
