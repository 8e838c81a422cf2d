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
