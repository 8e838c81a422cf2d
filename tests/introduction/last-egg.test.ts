/**
 * When the last fertile egg was laid, in days after the split, from how it began and what was seen: eggs are up to 3½
 * days old, young larvae up to 5½, sealed brood at least 8½, an empty nest at least 20 (brood calendar, Mussen et al. 1987).
 */
import { describe } from 'vitest';
import { frame, split, type Setup } from './support/conditions.ts';
import { at, facts } from './support/field-log.ts';
import { lastEggs, notSeen, some, through } from './support/last-eggs.ts';

const withCells: Setup = { startingPoint: 'queenless-with-cells', openedAtMs: at(0) };
const inPlace: Setup = { startingPoint: 'requeened-in-place', openedAtMs: at(0) };

describe('how it began', () => {
  const fromParent = 'split made with the old queen seen in the parent colony';
  lastEggs([
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
      name: 'a split at which she was not seen counts from itself',
      log: [notSeen()],
      over: {
        carried: {
          lastFertileEgg: { earliestMs: at(-20), latestMs: at(-20), restsOn: [] },
          queenlessSince: { earliestMs: at(-20), latestMs: at(-20), restsOn: [] },
        },
      },
      egg: [-2, null],
      queenless: [-2, null],
    },
    {
      name: 'requeened in place: the queen that is to be taken out lays until then',
      log: [through(1, { youngestBrood: 'eggs' })],
      over: {
        ...inPlace,
        carried: {
          lastFertileEgg: { earliestMs: at(-20), latestMs: at(-20), restsOn: [] },
          queenlessSince: { earliestMs: at(-20), latestMs: at(-20), restsOn: [] },
        },
      },
      egg: [null, null],
      queenless: [null, null],
    },
    {
      name: 'a virgin that is taken away laid nothing',
      log: [split, [at(9), { kind: 'queen-removed', which: 'virgin' }]],
      egg: [0, 0],
      later: [],
    },
    {
      name: 'she was not seen, and day 8 has no egg but those under the mesh: eggs of before are older than three days',
      log: [
        notSeen(),
        [at(0, 12), facts.hung()],
        through(8, { youngestBrood: 'eggs', eggsOutsideMesh: false }),
      ],
      over: { method: 'push-in-cage' },
      egg: [-2, 5],
    },
    {
      name: 'the same on a frame that is to tell: nothing of before',
      log: [
        notSeen(),
        [at(0, 12), facts.hung()],
        [at(7), facts.broodAdded({ asTestFrame: true })],
        through(8, { youngestBrood: 'eggs', eggsOutsideMesh: false }),
      ],
      over: { method: 'push-in-cage' },
      egg: [-2, null],
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
  lastEggs([
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
      name: 'she was not seen, nothing bounds it, and a frame of eggs came on day 3',
      log: [notSeen({ framesOfOpenBrood: 0 }), [at(3), facts.broodAdded()]],
      egg: [null, null],
      notBefore: 3,
    },
    {
      name: 'a frame that was no test frame is taken out',
      log: [split, [at(4), facts.broodTaken({ asTestFrame: false })]],
      egg: [0, 0],
      notBefore: 0,
    },
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
