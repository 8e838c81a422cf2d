/** The days of what goes with her cage: bees added, a cage taken out, her way out taped or freed, a test frame. */
import { describe } from 'vitest';
import { split, type Entries } from './support/conditions.ts';
import { at, facts } from './support/field-log.ts';
import { places } from './support/places.ts';

const came = (day: number, over: Parameters<typeof facts.arrived>[0] = {}): Entries[number] => [
  at(day),
  facts.arrived(over),
];
const cut7 = [at(7), facts.cut({ sealed: 8 })] as const;
const hung = [at(7, 10.5), facts.hung()] as const;
const course: Entries = [split, cut7, hung, [at(10), facts.cut()]];
const out: Entries = [...course, [at(10, 11), facts.opened()]];
const few = [at(0), facts.split({ framesOfBees: 1 })] as const;
const stuck = [at(17), facts.looked({ cageEmpty: false, eggsSeen: false })] as const;
const ended = (day: number): Entries[number] => [at(day), { kind: 'outcome', outcome: 'given-up' }];

describe('add bees', () => {
  places('add-bees', [
    {
      name: 'one frame of bees',
      log: [few],
      now: at(2, 8),
      window: '0 00:00 | 2 10:00 | 1 23:59',
      why: 'Too few bees',
    },
    { name: 'three frames of bees', log: [split], now: at(2, 8), window: null },
    {
      name: 'one frame of bees, and she is out',
      log: [few, cut7, hung, [at(10, 11), facts.opened()]],
      now: at(12),
      window: null,
    },
    {
      name: 'one frame of bees, and she is dead',
      log: [few, came(5), [at(6), { kind: 'queen-dead' }]],
      now: at(7),
      window: null,
    },
    {
      name: 'one frame of bees, and she flew off',
      log: [few, came(5), [at(6), { kind: 'queen-escaped', to: 'outside' }]],
      now: at(7),
      window: null,
    },
    { name: 'one frame of bees, closed', log: [few, ended(6)], now: at(7), window: null },
    {
      name: 'counted before the split is made',
      log: [[at(0), facts.inspection({ framesOfBees: 1 })]],
      now: at(1),
      window: null,
    },
    {
      name: 'counted before the old queen is out',
      log: [[at(0), facts.inspection({ framesOfBees: 1 })]],
      now: at(1),
      over: { startingPoint: 'requeened-in-place' },
      window: null,
    },
  ]);
});

describe('take one of two cages out', () => {
  const two: Entries = [...course, [at(10, 10.5), facts.hung({ queenId: 'queen-two' })]];
  places('take-cage-out', [
    {
      name: 'both hang',
      log: two,
      now: at(10, 12),
      window: '10 00:00 | 10 10:00 | 11 23:59',
      why: 'the bees would be left with two',
    },
    {
      name: 'one was opened an hour ago',
      log: [...two, [at(10, 11), facts.opened()]],
      now: at(10, 12),
      window: '10 00:00 | 10 10:00 | 11 23:59',
      why: 'the bees would be left with two',
    },
    {
      name: 'one was opened a day ago: with the look for her',
      log: [...two, [at(10, 11), facts.opened()]],
      now: at(11, 12),
      window: '16 11:00 | 17 10:00',
    },
    { name: 'one hangs', log: course, now: at(10, 12), window: null },
    { name: 'closed', log: [...two, ended(11)], now: at(12), window: null },
  ]);
});

describe('free her', () => {
  places('free-queen', [
    {
      name: 'stuck a week after',
      log: [...out, stuck],
      now: at(17, 11),
      window: '17 00:00 | 17 10:00 | 18 23:59',
      why: 'still in the cage',
    },
    { name: 'on her way', log: out, now: at(12), window: null },
    { name: 'not opened yet', log: course, now: at(12), window: null },
    { name: 'stuck, and closed', log: [...out, stuck, ended(18)], now: at(19), window: null },
  ]);
});

describe('tape the candy end again', () => {
  const early: Entries = [split, [at(4), facts.hung()], [at(5), facts.opened()]];
  const once: Entries = [split, cut7, hung, [at(8), facts.opened()]];
  const bites = (hour: number): Entries[number] => [at(8, hour), facts.atCage({ behaviour: 'biting' })];
  places('close-candy', [
    {
      name: 'opened before the cut',
      log: early,
      now: at(5, 12),
      window: '5 00:00 | 5 10:00 | 5 22:00',
      why: 'No cut of day 7',
    },
    {
      name: 'opened in the evening before the cut',
      log: [...early.slice(0, 2), [at(5, 20), facts.opened()]],
      now: at(6, 6),
      window: '6 00:00 | 6 08:00 | 6 08:00',
    },
    { name: 'half a day later she may be out', log: early, now: at(5, 23), window: null },
    {
      name: 'opened before the second look',
      log: once,
      now: at(8, 12),
      window: '8 00:00 | 8 10:00 | 8 22:00',
      offered: true,
      why: 'The second look was not made',
    },
    {
      name: 'opened before the second look, and bees bite since',
      log: [...once, bites(11)],
      now: at(8, 12),
      window: '8 00:00 | 8 10:00 | 8 22:00',
      why: 'The bees bite',
    },
    {
      name: 'opened before the second look, bees bit before',
      log: [...once, bites(9)],
      now: at(8, 12),
      window: '8 00:00 | 8 10:00 | 8 22:00',
      offered: true,
    },
    { name: 'opened after both looks', log: out, now: at(10, 12), window: null },
    ...(
      [
        ['a virgin was seen', [at(10, 10.5), facts.inspection({ virginSeen: true })], 'A virgin was seen'],
        ['an opened cell was found', [at(10), facts.cut({ emerged: 1 })], 'A virgin may be loose'],
        ['a test frame is in', [at(10, 10.5), facts.broodAdded({ asTestFrame: true })], 'A test frame is in'],
        [
          'workers lay',
          [at(10, 10.5), facts.inspection({ youngestBrood: 'eggs', droneBroodInWorkerCells: true })],
          'Workers are laying',
        ],
        [
          'eggs speak for a queen',
          [at(10, 10.5), facts.inspection({ youngestBrood: 'eggs' })],
          'A queen may be in the box',
        ],
      ] as const
    ).map(([name, seen, why]) => ({
      name: `opened after both looks, and ${name}`,
      log: [...course, seen, [at(10, 11), facts.opened()]] as Entries,
      now: at(10, 12),
      window: '10 00:00 | 10 10:00 | 10 23:00',
      why,
    })),
    {
      name: 'her cage is empty',
      log: [...early, [at(5, 11), facts.looked({ queenSeen: false, eggsSeen: false })]],
      now: at(5, 12),
      window: null,
    },
    {
      name: 'the mesh was lifted before the cut',
      log: [split, [at(4), facts.hung()], [at(5), { kind: 'cage-taken-out' }]],
      now: at(5, 12),
      over: { method: 'push-in-cage' },
      window: null,
    },
    {
      name: 'she slipped out',
      log: [split, [at(4), facts.hung()], [at(5), { kind: 'queen-escaped', to: 'into-the-nuc' }]],
      now: at(5, 12),
      window: null,
    },
    { name: 'she hangs', log: early.slice(0, 2), now: at(5, 12), window: null },
    {
      name: 'closed',
      log: [...early, [at(5, 11), { kind: 'outcome', outcome: 'given-up' }]],
      now: at(5, 12),
      window: null,
    },
    { name: 'dead', log: [...early, [at(5, 11), { kind: 'queen-dead' }]], now: at(5, 12), window: null },
  ]);
});

describe('take the test frame out', () => {
  const withCut = [at(7, 10.5), facts.broodAdded({ asTestFrame: true })] as const;
  places('test-frame-out', [
    {
      name: 'in with the first cut: at the second look',
      log: [split, cut7, withCut],
      now: at(8),
      window: '8 10:30 | 10 10:00',
    },
    {
      name: 'in, and she was let out beside it: in the visit that looks for her',
      log: [...course, [at(10, 10.5), facts.broodAdded({ asTestFrame: true })], [at(10, 11), facts.opened()]],
      now: at(11, 12),
      window: '16 11:00 | 17 10:00 | 17 23:59',
    },
    {
      name: 'in with the second look: after two days',
      log: [...course, [at(10, 10.5), facts.broodAdded({ asTestFrame: true })]],
      now: at(10, 12),
      window: '11 10:30 | 12 10:00',
    },
    {
      name: 'in with the only look at a hopeless colony: after two days',
      log: [
        [at(3), facts.cut({}, { youngestBrood: 'sealed-only' })],
        [at(3, 10.5), facts.broodAdded({ asTestFrame: true })],
      ],
      now: at(3, 12),
      over: { startingPoint: 'hopelessly-queenless', openedAtMs: at(0) },
      window: '4 10:30 | 5 10:00',
    },
  ]);
});
