/** What cells and brood tell that do not fit: bees start cells 12 to 48 hours after the loss (Fell and Morse 1984). */
import { describe } from 'vitest';
import { frame, split, type Setup } from './support/conditions.ts';
import { at, cells, facts } from './support/field-log.ts';
import { lastEggs, notSeen, some, through } from './support/last-eggs.ts';

const found: Setup = { startingPoint: 'hopelessly-queenless', openedAtMs: at(0) };
const withCells: Setup = { startingPoint: 'queenless-with-cells', openedAtMs: at(0) };

describe('since when the bees have no queen: cells say half a day before', () => {
  lastEggs([
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
  lastEggs([
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

describe('brood too young for the last egg', () => {
  const eggs = through(9, { youngestBrood: 'eggs' });
  lastEggs([
    { name: 'eggs on day 9', log: [split, eggs], contradictions: ['brood-too-young'] },
    {
      name: 'eggs as a test frame comes out: they are the frame’s',
      log: [
        split,
        [at(7), facts.broodAdded({ asTestFrame: true })],
        [at(9), facts.broodTaken({ cellsOnIt: 2 })],
        eggs,
      ],
      egg: [0, 0],
      contradictions: [],
    },
    {
      name: 'a frame before it had cells: that tells nothing of it',
      log: [split, ...frame(5, 7, 2), eggs],
      contradictions: ['brood-too-young'],
    },
    {
      name: 'a frame since without a cell settles nothing',
      log: [split, eggs, ...frame(10, 12, 0)],
      contradictions: ['brood-too-young'],
    },
    {
      name: 'eggs in the visit in which a frame is given are not the frame’s',
      log: [split, eggs, [at(9), facts.broodAdded({ asTestFrame: true })]],
      contradictions: ['brood-too-young'],
    },
    {
      name: 'and a second frame since has cells: no queen laid them',
      log: [split, ...frame(5, 7, 2), eggs, ...frame(10, 12, 3)],
      egg: [0, 0],
      contradictions: [],
    },
  ]);
});

describe('a later look that settles it', () => {
  const eggs = through(9, { youngestBrood: 'eggs' });
  const larvae = through(9, { youngestBrood: 'young-larvae' });
  const stands = ['brood-too-young'];
  const later = (over: Parameters<typeof facts.inspection>[0]) =>
    through(13, { youngestBrood: 'sealed-only', ...over });
  lastEggs([
    {
      name: 'sealed brood alone on day 13: the eggs were a mistake',
      log: [split, eggs, later({})],
      egg: [0, 0],
      contradictions: [],
    },
    {
      name: 'and a frame was left out',
      log: [split, eggs, later({ everyFrameChecked: false })],
      contradictions: stands,
    },
    {
      name: 'and bees were not shaken off',
      log: [split, eggs, later({ beesShakenOff: false })],
      contradictions: stands,
    },
    {
      name: 'and nobody looked for brood',
      log: [split, eggs, later({ youngestBrood: 'not-looked' })],
      contradictions: stands,
    },
    {
      name: 'and an open cell holds a young larva',
      log: [
        split,
        eggs,
        [at(13), facts.cut({ open: 1 }, { youngestBrood: 'sealed-only', youngLarvaInOpenCell: true })],
      ],
      contradictions: stands,
    },
    {
      name: 'larvae near sealing on day 13: the eggs were there, and nothing lays since',
      log: [split, eggs, later({ youngestBrood: 'old-larvae' })],
      egg: [5.5, 8.5],
      contradictions: [],
    },
    {
      name: 'young larvae on day 13',
      log: [split, eggs, later({ youngestBrood: 'young-larvae' })],
      contradictions: stands,
    },
    {
      name: 'eggs again on day 13',
      log: [split, eggs, later({ youngestBrood: 'eggs' })],
      contradictions: [...stands, ...stands],
    },
    {
      name: 'only larvae spoke against the keeper’s own date, and larvae near sealing are left on day 13: it stands',
      log: [split, larvae, later({ youngestBrood: 'old-larvae' })],
      egg: [0, 0],
      contradictions: [],
    },
  ]);
});

describe('larvae near sealing on day 17', () => {
  const late = through(17, { youngestBrood: 'old-larvae' });
  const before = (over: Parameters<typeof facts.inspection>[0]) =>
    through(14, { youngestBrood: 'sealed-only', ...over });
  const tooYoung = ['brood-too-young'];
  lastEggs([
    { name: 'are too young for the last egg', log: [split, late], contradictions: tooYoung },
    {
      name: 'are a mistake after a look that found sealed brood alone',
      log: [split, before({}), late],
      egg: [0, 0],
      contradictions: [],
    },
    {
      name: 'are none where that look left a frame out',
      log: [split, before({ everyFrameChecked: false }), late],
      contradictions: tooYoung,
    },
    {
      name: 'nor where bees were not shaken off',
      log: [split, before({ beesShakenOff: false }), late],
      contradictions: tooYoung,
    },
    {
      name: 'nor where they were not shaken off this time',
      log: [split, before({}), through(17, { youngestBrood: 'old-larvae', beesShakenOff: false })],
      contradictions: tooYoung,
    },
    {
      name: 'nor are eggs',
      log: [split, before({}), through(17, { youngestBrood: 'eggs' })],
      contradictions: tooYoung,
    },
  ]);
});
