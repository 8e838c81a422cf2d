/** Which acts the beginning of an introduction brings with it. */
import { describe, expect, it } from 'vitest';
import { beginsWithSplit, lookFirst, oldQueenToBeFound } from '../../server/introduction/acts/starts.ts';
import { split, type Entries, type Setup } from './support/conditions.ts';
import { at, facts, stateAt } from './support/field-log.ts';

const inPlace: Setup = { startingPoint: 'requeened-in-place', openedAtMs: at(-1) };
const withCells: Setup = { startingPoint: 'queenless-with-cells', openedAtMs: at(-1) };
const hopeless: Setup = { startingPoint: 'hopelessly-queenless', openedAtMs: at(-1) };
const own: Setup = { startingPoint: 'own-laying-queen', openedAtMs: at(-1) };
const opened: Setup = { openedAtMs: at(-1) };
const taken = (day: number, which: 'old-queen' | 'virgin'): Entries[number] => [
  at(day),
  { kind: 'queen-removed', which },
];
const through = (day: number, over: Parameters<typeof facts.inspection>[0] = {}): Entries[number] => [
  at(day),
  facts.inspection(over),
];

describe('which acts a beginning brings', () => {
  it.each<{
    readonly name: string;
    readonly log: Entries;
    readonly over?: Setup;
    readonly is: readonly boolean[];
  }>([
    { name: 'a planned split', log: [], is: [true, false, false] },
    { name: 'a planned split that was made', log: [split], is: [true, false, false] },
    { name: 'found with cells', log: [], over: withCells, is: [false, false, true] },
    { name: 'found with cells, and split', log: [split], over: withCells, is: [true, false, false] },
    {
      name: 'found with cells, and the old queen was in it',
      log: [taken(0, 'old-queen')],
      over: withCells,
      is: [false, false, false],
    },
    { name: 'found hopeless', log: [], over: hopeless, is: [false, false, true] },
    {
      name: 'a queen of one’s own, nothing logged',
      log: [],
      over: { ...own, plannedSplitMs: at(2) },
      is: [true, false, false],
    },
    { name: 'a queen of one’s own, not split', log: [through(0)], over: own, is: [false, false, false] },
    { name: 'requeened in place', log: [], over: inPlace, is: [false, true, false] },
    {
      name: 'requeened in place, a virgin was taken',
      log: [taken(0, 'virgin')],
      over: inPlace,
      is: [false, true, false],
    },
    {
      name: 'requeened in place, she was taken',
      log: [taken(0, 'old-queen')],
      over: inPlace,
      is: [false, false, false],
    },
    { name: 'requeened in place, and split', log: [split], over: inPlace, is: [true, false, false] },
  ])('$name: a split, an old queen to be found, a look that comes first', ({ log, over, is }) => {
    const state = stateAt(log, at(1), { ...opened, ...over });
    expect([beginsWithSplit(state), oldQueenToBeFound(state), lookFirst(state)]).toEqual(is);
  });
});
