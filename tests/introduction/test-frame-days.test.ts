/**
 * When a test frame goes in, when it comes out, and what is made of one without cells. Bees without a queen start cells
 * within 12-48 h (Fell and Morse 1984); the rest is common practice: out after two days, on the third at the latest.
 */
import { describe, expect, it } from 'vitest';
import { frameTells, heldBack } from '../../server/introduction/acts/days/test-frame-plan.ts';
import { missed } from './support/after-release.ts';
import { frame, split, type Entries, type Setup } from './support/conditions.ts';
import { at, facts, stateAt } from './support/field-log.ts';
import { places } from './support/places.ts';

const cut7 = [at(7), facts.cut({ sealed: 8 })] as const;
const hung7 = [at(7, 10.5), facts.hung()] as const;
const opened = (day: number): Entries[number] => [at(day, 11), facts.opened()];
const caged: Entries = [split, cut7, hung7];
const out: Entries = [...caged, [at(10), facts.cut()], opened(10)];
const put = (day: number, hour = 10): Entries[number] => [
  at(day, hour),
  facts.broodAdded({ asTestFrame: true }),
];
const takenEmpty = (day: number, hour = 10): Entries[number] => [
  at(day, hour),
  facts.broodTaken({ cellsOnIt: 0 }),
];
const virginTaken = (day: number): Entries[number] => [
  at(day, 12),
  { kind: 'queen-removed', which: 'virgin' },
];
const hopeless: Setup = { startingPoint: 'hopelessly-queenless', openedAtMs: at(0) };
const virginSeen = [at(0), facts.inspection({ youngestBrood: 'sealed-only', virginSeen: true })] as const;

describe('a test frame goes in', () => {
  places('test-frame-in', [
    {
      name: 'brood too young in a box whose old queen was seen elsewhere: today, within four days',
      log: [split, [at(7), facts.inspection({ youngestBrood: 'eggs' })]],
      now: at(7, 12),
      window: '7 00:00 | 7 10:00 | 11 00:00',
      why: 'Eggs were seen, too young',
    },
    {
      name: 'a virgin was found in a hopeless colony and taken: whether another queen is there nobody saw',
      log: [virginSeen, virginTaken(0)],
      now: at(1, 13),
      over: hopeless,
      window: '1 00:00 | 1 10:00',
      why: 'Nothing shows yet',
    },
    {
      name: 'swarm cells taken out at the split, and no look for cells makes it sure enough',
      log: [
        [at(0), facts.split({ cellsAlreadyThere: 'present-and-removed', cellsTakenOut: 1 })],
        [at(8), facts.cut({ sealed: 3 })],
        [at(8, 10.5), facts.hung()],
        [at(11), facts.cut()],
      ],
      now: at(11, 11),
      window: '11 00:00 | 11 10:00',
      why: 'a test frame tells whether a virgin is out',
    },
    {
      name: 'and she was let out all the same: beside her it tells nothing',
      log: [
        [at(0), facts.split({ cellsAlreadyThere: 'present-and-removed', cellsTakenOut: 1 })],
        [at(8), facts.cut({ sealed: 3 })],
        [at(8, 10.5), facts.hung()],
        [at(11), facts.cut()],
        opened(11),
      ],
      now: at(12),
      window: null,
    },
    {
      name: 'not found twice, and it went in at the second of those visits: without a cell she is looked for again',
      log: [...out, missed(17), missed(21), put(21), takenEmpty(23)],
      now: at(28),
      window: null,
    },
    {
      name: 'not found twice, and the introduction is closed',
      log: [...out, missed(17), missed(21), [at(21, 12), { kind: 'outcome', outcome: 'given-up' }]],
      now: at(21, 13),
      window: null,
    },
    {
      name: 'looked through, and the split is still to be made: its queen is there',
      log: [[at(-1), facts.inspection({ youngestBrood: 'eggs' })]],
      now: at(0, 8),
      over: { plannedSplitMs: at(2) },
      window: null,
    },
    {
      name: 'an emerged cell was found, and she was let out all the same: beside her it tells nothing',
      log: [split, [at(10), facts.cut({ sealed: 3, emerged: 1 })], [at(10, 10.5), facts.hung()], opened(11)],
      now: at(12),
      window: null,
    },
    {
      name: 'a virgin was seen: she is looked for',
      log: [split, [at(10), facts.cut({ sealed: 3 }, { virginSeen: true })]],
      now: at(10, 12),
      window: null,
    },
    {
      name: 'one is in that nothing asks for any more',
      log: [...caged, put(9)],
      now: at(9, 12),
      window: '9 10:00 | 9 10:00 | 9 10:00',
      done: true,
      why: 'A test frame is in',
    },
    {
      name: 'one is in, and a frame of brood was given since: the day of the test frame stays',
      log: [...caged, put(9), [at(10), facts.broodAdded({ brood: 'sealed-only' })]],
      now: at(10, 12),
      window: '9 10:00 | 9 10:00 | 9 10:00',
      done: true,
    },
  ]);
});

describe('a test frame comes out', () => {
  places('test-frame-out', [
    {
      name: 'two days later, after one at the soonest and on the third at the latest',
      log: [...caged, put(10)],
      now: at(10, 12),
      window: '11 10:00 | 12 10:00 | 13 23:59',
      why: 'Cells are started within one to two days',
    },
    {
      name: 'planned ahead: two days after it goes in',
      log: [split, [at(7), facts.inspection({ youngestBrood: 'eggs' })]],
      now: at(7, 12),
      window: '8 10:00 | 9 10:00 | 10 23:59',
      why: 'Cells are started within one to two days',
    },
    {
      name: 'in with the cut: out with the second look',
      log: [...caged, put(7, 11)],
      now: at(7, 12),
      window: '8 11:00 | 10 10:00 | 10 23:59',
    },
    {
      name: 'in two days after the cut: no visit waits for it',
      log: [...caged, put(9)],
      now: at(9, 12),
      window: '10 10:00 | 11 10:00 | 12 23:59',
    },
    {
      name: 'in when every frame was looked through and nothing was cut',
      log: [split, [at(5), facts.inspection()], put(5)],
      now: at(5, 12),
      window: '6 10:00 | 7 10:00 | 8 23:59',
    },
    {
      name: 'a virgin was found beside it and taken: its days count from then',
      log: [...caged, put(10), virginTaken(11)],
      now: at(11, 13),
      window: '12 12:00 | 13 10:00 | 14 23:59',
    },
    {
      name: 'one was found and taken before it went in: its own days',
      log: [...caged, virginTaken(8), put(10)],
      now: at(10, 12),
      window: '11 10:00 | 12 10:00 | 13 23:59',
    },
    {
      name: 'she was let out beside it: in the visit that looks for her, on that day',
      log: [...caged, [at(10), facts.cut()], put(10), opened(10)],
      now: at(10, 12),
      window: '16 11:00 | 17 10:00 | 17 23:59',
    },
    {
      name: 'not found twice, and it went in then: its own days',
      log: [...out, missed(17), missed(21), put(21)],
      now: at(21, 12),
      window: '22 10:00 | 23 10:00 | 24 23:59',
    },
    {
      name: 'she was let out beside it and found dead: nobody waits for her',
      log: [...caged, put(9), opened(9), [at(10), { kind: 'queen-dead' }]],
      now: at(10, 12),
      window: '10 10:00 | 11 10:00 | 12 23:59',
    },
  ]);
});

describe('no cell on it', () => {
  const empty = frame(10, 12, 0);
  const withCells = frame(6, 8, 3);
  it.each<{ name: string; log: Entries; now: number; is: ReturnType<typeof heldBack> }>([
    { name: 'the queen that held them back is looked for', log: empty, now: at(12, 12), is: 'find-her' },
    { name: 'and on the last evening of those four days', log: empty, now: at(15, 23), is: 'find-her' },
    { name: 'then another frame may tell', log: empty, now: at(16, 0), is: null },
    { name: 'two in a row: one is there', log: [...frame(5, 7, 0), ...empty], now: at(12, 12), is: 'unite' },
    {
      name: 'the one before had cells: it is the first without',
      log: [...withCells, ...empty],
      now: at(12, 12),
      is: 'find-her',
    },
    {
      name: 'the one before came out after some hours, and told nothing',
      log: [put(8), takenEmpty(8, 20), ...empty],
      now: at(12, 12),
      is: 'find-her',
    },
    {
      name: 'two in a row, after one with cells',
      log: [...withCells, ...empty, ...frame(16, 18, 0)],
      now: at(18, 12),
      is: 'unite',
    },
    { name: 'the last one had cells', log: [...empty, ...frame(16, 18, 2)], now: at(18, 12), is: null },
    { name: 'it is in still', log: [put(10)], now: at(12), is: null },
  ])('$name: $is', ({ log, now, is }) => {
    expect(heldBack(stateAt([...caged, ...log], now))).toBe(is);
  });
});

describe('whether a frame tells of a virgin', () => {
  const early = [at(4), facts.cut({ open: 6 })] as const;
  it.each<{ name: string; log: Entries; now: number; tells: boolean }>([
    { name: 'nobody looked for cells: one can still open', log: [split], now: at(9), tells: false },
    {
      name: 'a frame was left out',
      log: [split, [at(7), facts.cut({ sealed: 8 }, { everyFrameChecked: false })]],
      now: at(9),
      tells: false,
    },
    { name: 'after a look on every frame', log: [split, cut7], now: at(9), tells: true },
    // A cell takes eight days from its start (derived from Fell and Morse 1984 and a queen's 15-16 days).
    { name: 'seven days after an early cut', log: [split, early], now: at(11), tells: true },
    {
      name: 'nine days after it: a cell started since may have opened',
      log: [split, early],
      now: at(13),
      tells: false,
    },
    {
      name: 'one that is in is not taken out for that',
      log: [split, early, put(12)],
      now: at(13),
      tells: true,
    },
  ])('$name: $tells', ({ log, now, tells }) => {
    expect(frameTells(stateAt(log, now))).toBe(tells);
  });
});
