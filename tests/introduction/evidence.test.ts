/**
 * When the last fertile egg was laid and since when the bees have no queen, in days after the split, from what was seen:
 * eggs are up to 3½ days old, young larvae up to 5½, sealed brood at least 8½, an empty nest at least 20 (brood calendar,
 * Mussen et al. 1987). Bees start cells 12 to 48 hours after the loss (Fell and Morse 1984).
 */
import { describe, expect, it } from 'vitest';
import type { Interval } from '../../server/introduction/log/setup.ts';
import { frame, split, type Entries, type Setup } from './support/conditions.ts';
import { at, cells, facts, stateAt } from './support/field-log.ts';

type Days = readonly [earliest: number | null, latest: number | null];
interface Row {
  readonly name: string;
  readonly log: Entries;
  readonly over?: Setup;
  readonly egg?: Days;
  readonly queenless?: Days;
  readonly likely?: number | null;
  readonly notBefore?: number | null;
  readonly first?: number | null;
  readonly later?: readonly number[];
  /** Until then a queen may have laid whose eggs nobody saw. */
  readonly perhaps?: number | null;
  /** What the last egg rests on. */
  readonly restsOn?: readonly string[];
  readonly contradictions?: readonly string[];
}

const dayOf = (ms: number | null): number | null =>
  ms === null ? null : Math.round(((ms - at(0)) / 86_400_000) * 100) / 100;
const days = ({ earliestMs, latestMs }: Interval): Days => [dayOf(earliestMs), dayOf(latestMs)];

const table = (rows: readonly Row[]): void => {
  it.each(rows)('$name', ({ log, over, restsOn, ...row }) => {
    const { evidence } = stateAt(log, at(60), over);
    const told = {
      egg: days(evidence.lastFertileEgg),
      queenless: days(evidence.queenlessSince),
      likely: dayOf(evidence.likelyLastEggMs),
      notBefore: dayOf(evidence.lastEggNotBeforeMs),
      first: dayOf(evidence.firstLastEggMs),
      later: evidence.laterLosses.map(dayOf),
      perhaps: dayOf(evidence.perhapsLaidUntilMs),
      contradictions: evidence.contradictions.map(({ kind }) => kind),
    };
    const { name: _, ...expected } = row;
    expect(told).toMatchObject(expected);
    if (restsOn) expect(evidence.lastFertileEgg.restsOn).toEqual(restsOn);
  });
};

const notSeen = (over: Parameters<typeof facts.split>[0] = {}): Entries[number] => [
  at(0),
  facts.split({ oldQueen: 'not-seen', ...over }),
];
const through = (day: number, over: Parameters<typeof facts.inspection>[0] = {}): Entries[number] => [
  at(day),
  facts.inspection(over),
];
/** Not on every frame. */
const some = (day: number, over: Parameters<typeof facts.inspection>[0] = {}): Entries[number] =>
  through(day, { everyFrameChecked: false, beesShakenOff: false, ...over });
const found: Setup = { startingPoint: 'hopelessly-queenless', openedAtMs: at(0) };
const withCells: Setup = { startingPoint: 'queenless-with-cells', openedAtMs: at(0) };
const inPlace: Setup = { startingPoint: 'requeened-in-place', openedAtMs: at(0) };

describe('how it began', () => {
  const fromParent = 'split made with the old queen seen in the parent colony';
  table([
    {
      name: 'the old queen was seen in the parent colony',
      log: [split],
      egg: [0, 0],
      queenless: [0, 0],
      likely: 0,
      notBefore: 0,
      first: 0,
      later: [],
      restsOn: [fromParent],
    },
    {
      name: 'she was found in the split and moved back',
      log: [[at(0), facts.split({ oldQueen: 'seen-in-split-and-moved' })]],
      egg: [0, 0],
      restsOn: ['old queen found in the split and taken back to the parent colony'],
    },
    {
      name: 'she was not seen: with open brood and no cell the loss is two days old at most',
      log: [notSeen()],
      egg: [-2, null],
      queenless: [-2, null],
      likely: null,
      notBefore: -2,
    },
    {
      name: 'she was not seen, and cells stood: open brood is 9½ days old at most',
      log: [notSeen({ cellsAlreadyThere: 'present-and-left' })],
      egg: [-9.5, null],
      queenless: [-9.5, null],
    },
    {
      name: 'she was not seen, and no brood was open: nobody knows',
      log: [notSeen({ framesOfOpenBrood: 0 })],
      egg: [null, null],
      queenless: [null, null],
      notBefore: null,
    },
    {
      name: 'the date of the introduction before is kept, and no look moves it',
      log: [through(8, { youngestBrood: 'old-larvae' })],
      over: {
        ...withCells,
        carried: {
          lastFertileEgg: { earliestMs: at(4), latestMs: at(4), restsOn: ['before'] },
          queenlessSince: { earliestMs: at(4), latestMs: at(4), restsOn: ['before'] },
        },
      },
      egg: [4, 4],
      queenless: [4, 4],
      restsOn: ['before'],
    },
    {
      name: 'its bounds are narrowed by a look',
      log: [through(8, { youngestBrood: 'old-larvae' })],
      over: {
        ...withCells,
        carried: {
          lastFertileEgg: { earliestMs: at(0), latestMs: at(6), restsOn: ['before'] },
          queenlessSince: { earliestMs: at(0), latestMs: at(6), restsOn: ['before'] },
        },
      },
      egg: [0, 3.5],
      queenless: [0, 6],
      restsOn: ['before', 'only larvae near sealing as the youngest brood on every frame'],
    },
    {
      name: 'nothing was known of it: one look sets the date, the next narrows it',
      log: [through(3, { youngestBrood: 'eggs' }), through(10, { youngestBrood: 'sealed-only' })],
      over: {
        ...withCells,
        carried: {
          lastFertileEgg: { earliestMs: null, latestMs: null, restsOn: [] },
          queenlessSince: { earliestMs: null, latestMs: null, restsOn: [] },
        },
      },
      egg: [-0.5, 1.5],
    },
    {
      name: 'requeened in place: brood of before tells nothing, and she is taken out on day 3',
      log: [through(1, { youngestBrood: 'eggs' }), [at(3), { kind: 'queen-removed', which: 'old-queen' }]],
      over: inPlace,
      egg: [3, 3],
      queenless: [3, 3],
      restsOn: ['the queen that was found was taken away'],
    },
  ]);
});

describe('the date that the days of the cut are counted from', () => {
  table([
    {
      name: 'she was not seen, and only larvae near sealing are left on day 6: the split',
      log: [notSeen(), through(6, { youngestBrood: 'old-larvae' })],
      egg: [-2, 1.5],
      likely: 0,
    },
    {
      name: 'she was not seen, eggs on day 5 were laid since, and day 9 has larvae near sealing: the later date',
      log: [notSeen(), some(5, { youngestBrood: 'eggs' }), through(9, { youngestBrood: 'old-larvae' })],
      egg: [1.5, 4.5],
      likely: 4.5,
      notBefore: 1.5,
    },
    {
      name: 'she was not seen, and no brood is left on day 25: the split, though nothing bounds it before',
      log: [notSeen({ framesOfOpenBrood: 0 }), through(25, { youngestBrood: 'none' })],
      egg: [null, 5],
      likely: 0,
    },
    {
      name: 'she was not seen, and a frame of eggs came on day 3',
      log: [notSeen(), through(2, { youngestBrood: 'old-larvae' }), [at(3), facts.broodAdded()]],
      likely: 3,
      notBefore: 3,
    },
    {
      name: 'she was not seen; the new one laid under her mesh and died on day 6',
      log: [
        notSeen(),
        [at(0, 12), facts.hung()],
        through(3, { youngestBrood: 'eggs', eggsOutsideMesh: false }),
        [at(6), { kind: 'queen-dead' }],
      ],
      over: { method: 'push-in-cage' },
      likely: 6,
      later: [6],
    },
    {
      name: 'a test frame that is in may hold the youngest egg',
      log: [split, [at(5), facts.broodAdded({ asTestFrame: true })]],
      egg: [0, 0],
      notBefore: 5,
    },
    { name: 'one that came out does not', log: [split, ...frame(5, 7, 2)], egg: [0, 0], notBefore: 0 },
    {
      name: 'nothing is known',
      log: [some(1)],
      over: withCells,
      egg: [null, null],
      likely: null,
      notBefore: null,
    },
  ]);
});

describe('since when the bees have no queen: cells say half a day before', () => {
  table([
    { name: 'none was seen', log: [notSeen(), through(3)], queenless: [-2, null] },
    {
      name: 'an open one on day 3, and none on day 1',
      log: [
        notSeen(),
        through(1),
        some(3, { cells: cells({ open: 1 }) }),
        through(5, { cells: cells({ open: 4 }) }),
      ],
      queenless: [-2, 2.5],
    },
    {
      name: 'a torn-down one',
      log: [notSeen(), some(4, { cells: cells({ tornDown: 1 }) })],
      queenless: [-2, 3.5],
    },
    { name: 'cut on day 4', log: [notSeen(), [at(4), facts.cut({ sealed: 2 })]], queenless: [-2, 3.5] },
    {
      name: 'seen as she was looked for',
      log: [
        notSeen(),
        [at(4), facts.looked({ queenSeen: false, eggsSeen: false, cells: cells({ sealed: 1 }) })],
      ],
      queenless: [-2, null],
    },
    {
      name: 'the old queen was seen: the split',
      log: [split, through(4, { cells: cells({ open: 2 }) })],
      queenless: [0, 0],
    },
  ]);
});

describe('brood in a colony that was taken for hopelessly queenless', () => {
  const tooYoung = ['brood-too-young'];
  const eggs = some(1, { youngestBrood: 'eggs' });
  table([
    { name: 'eggs', log: [eggs], over: found, contradictions: tooYoung },
    { name: 'eggs, and it was not taken for one', log: [eggs], over: withCells, contradictions: [] },
    {
      name: 'eggs, and a sealed cell was seen',
      log: [some(0, { cells: { sealed: 1 } }), eggs],
      over: found,
      contradictions: [],
    },
    {
      name: 'eggs, and an open cell was seen',
      log: [some(0, { cells: { open: 1 } }), eggs],
      over: found,
      contradictions: [],
    },
    {
      name: 'eggs, and as many open as sealed cells were seen',
      log: [some(0, { cells: cells({ open: 1, sealed: 1 }) }), eggs],
      over: found,
      contradictions: [],
    },
    {
      name: 'eggs, and torn-down cells alone',
      log: [some(0, { cells: cells({ tornDown: 2 }) }), eggs],
      over: found,
      contradictions: tooYoung,
    },
    { name: 'eggs, and it was split', log: [notSeen(), eggs], over: found, contradictions: [] },
  ]);
});

describe('the queen that was brought, and is gone', () => {
  const course: Entries = [
    split,
    [at(7), facts.cut({ sealed: 8 })],
    [at(7), facts.hung()],
    [at(10), facts.cut()],
    [at(10), facts.opened()],
  ];
  const dead = (day: number): Entries[number] => [at(day), { kind: 'queen-dead' }];
  const looked = (day: number, over: Parameters<typeof facts.looked>[0] = {}): Entries[number] => [
    at(day),
    facts.looked({ eggsSeen: false, ...over }),
  ];
  const ownOut: Entries = [split, [at(2), facts.cut()], [at(2), facts.hung()], [at(2), facts.opened()]];
  const perhaps = 'a queen that was brought may have laid until then';
  table([
    {
      name: 'her eggs were seen on day 17, and she died on day 20',
      log: [...course, looked(17, { eggsSeen: true }), dead(20)],
      egg: [13.5, 20],
      perhaps: null,
      queenless: [13.5, 20],
      likely: 20,
      first: 0,
      later: [20],
    },
    {
      name: 'her young larvae were seen in a look through the frames',
      log: [...course, some(18, { youngestBrood: 'young-larvae' }), dead(20)],
      egg: [14.5, 20],
      later: [20],
    },
    {
      name: 'no egg was seen, and she died a week after: she may have laid until then',
      log: [...course, dead(17)],
      egg: [0, 17],
      queenless: [0, 17],
      likely: 17,
      first: 0,
      later: [17],
      perhaps: 17,
      restsOn: ['split made with the old queen seen in the parent colony', perhaps],
    },
    {
      name: 'no egg was seen four and a half days after the candy was opened: she had no time to lay',
      log: [...course, [at(14, 22), { kind: 'queen-dead' }]],
      egg: [0, 0],
      later: [],
    },
    {
      name: 'and a little more than that',
      log: [...course, [at(14, 23), { kind: 'queen-dead' }]],
      later: [14.54],
    },
    {
      name: 'her cage was empty on day 11: out since then',
      log: [...course, looked(11, { queenSeen: false }), [at(14, 22), { kind: 'queen-dead' }]],
      later: [14.5],
    },
    {
      name: 'she sat in her cage on day 16: not out before',
      log: [...course, [at(16), facts.atCage()], dead(17)],
      later: [],
    },
    {
      name: 'she sat in her cage on day 17, and was taken out: never out',
      log: [
        ...course,
        looked(17, { cageEmpty: false }),
        [at(17, 11), { kind: 'cage-taken-out', queen: 'in-the-cage' }],
      ],
      egg: [0, 0],
      later: [],
    },
    {
      name: 'she got out by accident on day 8, and died on day 12',
      log: [...course.slice(0, 3), [at(8), { kind: 'queen-escaped', to: 'into-the-nuc' }], dead(12)],
      later: [12],
    },
    {
      name: 'no egg was seen, but sealed brood of hers',
      log: [...course, looked(22, { sealedWorkerBroodSeen: true }), dead(24)],
      egg: [0, 24],
      later: [24],
    },
    {
      name: 'sealed brood alone on every frame, after she died: none of it can be hers',
      log: [...course, dead(17), through(18, { youngestBrood: 'sealed-only' })],
      egg: [0, 0],
      later: [],
      perhaps: null,
    },
    {
      name: 'sealed brood alone on every frame, after she was out for two weeks: it can be hers',
      log: [...course, dead(24), through(25, { youngestBrood: 'sealed-only' })],
      egg: [3, 16.5],
      perhaps: null,
      later: [24],
    },
    {
      name: 'no brood on every frame, after she was out for two weeks',
      log: [...course, dead(24), through(25, { youngestBrood: 'none' })],
      egg: [0, 0],
      later: [],
    },
    {
      name: 'sealed brood alone before she died',
      log: [...course, through(16, { youngestBrood: 'sealed-only' }), dead(17)],
      later: [17],
    },
    {
      name: 'sealed brood alone, and a frame was left out',
      log: [...course, dead(17), through(18, { youngestBrood: 'sealed-only', everyFrameChecked: false })],
      later: [17],
    },
    {
      name: 'sealed brood alone, and bees were not shaken off',
      log: [...course, dead(17), through(18, { youngestBrood: 'sealed-only', beesShakenOff: false })],
      later: [17],
    },
    { name: 'nobody looked for brood', log: [...course, dead(17), through(18)], later: [17] },
    {
      name: 'where a queen may be laying in it the date stays open',
      log: [notSeen(), ...course.slice(1), dead(17)],
      egg: [-2, null],
      later: [17],
    },
    {
      name: 'a queen of one’s own lays as soon as she is out',
      log: [...ownOut, dead(5)],
      over: { startingPoint: 'own-laying-queen' },
      egg: [0, 5],
      later: [5],
    },
    {
      name: 'a bought one does not',
      log: [...ownOut, dead(5)],
      egg: [0, 0],
      later: [],
    },
    {
      name: 'under mesh she may lay after three days',
      log: [split, [at(1), facts.hung()], [at(4, 11), { kind: 'queen-dead' }]],
      over: { method: 'push-in-cage' },
      later: [4.04],
    },
    {
      name: 'and not before',
      log: [split, [at(1), facts.hung()], dead(4)],
      over: { method: 'push-in-cage' },
      later: [],
    },
    { name: 'she is there still', log: [...course, looked(17, { eggsSeen: true })], egg: [0, 0], later: [] },
    {
      name: 'two queens, one after the other',
      log: [
        ...course,
        dead(17),
        [at(18), facts.hung({ queenId: 'queen-two' })],
        [at(18), facts.opened()],
        looked(25, { eggsSeen: true }),
        dead(28),
      ],
      egg: [21.5, 28],
      first: 0,
      later: [17, 28],
    },
    {
      name: 'eggs of the second are none of the first',
      log: [
        ...course,
        dead(13),
        [at(18), facts.hung({ queenId: 'queen-two' })],
        [at(18), facts.opened()],
        looked(25, { eggsSeen: true }),
        dead(28),
      ],
      egg: [21.5, 28],
      later: [28],
    },
    {
      name: 'larvae near sealing on day 26: her last egg was not laid before day 15½',
      log: [
        ...course,
        looked(17, { eggsSeen: true }),
        dead(20),
        through(26, { youngestBrood: 'old-larvae' }),
      ],
      egg: [15.5, 20],
      later: [20],
    },
    {
      name: 'sealed brood alone on day 27: her last egg was laid by day 18½',
      log: [
        ...course,
        looked(17, { eggsSeen: true }),
        dead(20),
        through(27, { youngestBrood: 'sealed-only' }),
      ],
      egg: [13.5, 18.5],
    },
  ]);
});
