/** Once she is out: when she is looked for again, and a cell beside her is cut. Days are common practice. */
import { describe } from 'vitest';
import {
  cellSeen,
  course,
  dead,
  drones,
  eggs,
  ended,
  looked,
  missed,
  out,
  sealed,
  several,
} from './support/after-release.ts';
import { split, type Entries } from './support/conditions.ts';
import { at, facts } from './support/field-log.ts';
import { places } from './support/places.ts';

const ownOut: Entries = [
  split,
  [at(2), facts.cut()],
  [at(2, 10.5), facts.hung()],
  [at(2, 11), facts.opened()],
];

describe('another look', () => {
  places('look-again', [
    {
      name: 'she was seen: she is left until her brood is to be sealed',
      log: [...out, looked(17)],
      now: at(17, 12),
      window: null,
    },
    { name: 'her eggs were seen', log: [...out, eggs(17)], now: at(17, 12), window: null },
    {
      name: 'eggs alone were seen',
      log: [...out, eggs(17, { queenSeen: false })],
      now: at(17, 12),
      window: null,
    },
    { name: 'not looked for yet', log: out, now: at(14), window: null },
    {
      name: 'not found: four to five days later',
      log: [...out, missed(17)],
      does: 'Look again for the queen: Look for her and for eggs again, on every frame',
      now: at(17, 12),
      window: '21 00:00 | 21 10:00 | 22 23:59',
      why: 'Not finding a queen is not losing her',
    },
    {
      name: 'not found twice: a test frame tells',
      log: [...out, missed(17), missed(21)],
      now: at(21, 12),
      window: null,
    },
    {
      name: 'seen, and no egg two weeks after',
      log: [...out, looked(17), looked(24)],
      does: 'Look again for eggs: Look for eggs again: the queen was seen',
      now: at(24, 12),
      window: '27 00:00 | 28 10:00 | 28 23:59',
      why: 'No eggs were seen yet',
    },
    {
      name: 'three looks, and no egg: another tells nothing',
      log: [...out, looked(17), looked(20), looked(24)],
      now: at(24, 12),
      window: null,
    },
    {
      name: 'eggs, and her cage is not empty: today',
      log: [...out, eggs(17, { cageEmpty: false, queenSeen: false })],
      does: 'See who sits in the cage',
      now: at(17, 12),
      window: '17 00:00 | 17 10:00 | 18 23:59',
      why: 'they may be another queen’s',
    },
    {
      name: 'several eggs in a cell may be hers',
      log: [...out, several(17)],
      does: 'Look again at the eggs',
      now: at(17, 12),
      window: '20 00:00 | 21 10:00 | 24 23:59',
      why: 'worker cappings decide',
    },
    {
      name: 'and are looked at again',
      log: [...out, several(17), several(22)],
      now: at(22, 12),
      window: '25 00:00 | 26 10:00 | 26 23:59',
    },
    {
      name: 'drone brood at two looks',
      log: [...out, drones(22), drones(26)],
      now: at(26, 12),
      window: null,
    },
    {
      name: 'a cell was seen and cut: whether another was started',
      log: [...out, looked(17, cellSeen), [at(17, 11), facts.cut({ sealed: 1 })]],
      does: 'Look again for cells',
      now: at(17, 12),
      window: '21 00:00 | 21 10:00 | 22 23:59',
      why: 'A cell was cut after she was let out',
    },
    {
      name: 'a cell was taken down in the look for her, and she lays',
      log: [...out, eggs(17, { ...cellSeen, cellsTakenDown: true })],
      now: at(17, 12),
      window: '21 00:00 | 21 10:00 | 22 23:59',
      why: 'A cell was cut after she was let out',
    },
    {
      name: 'and it was looked since',
      log: [...out, eggs(17, { ...cellSeen, cellsTakenDown: true }), eggs(21)],
      now: at(21, 12),
      window: null,
    },
    {
      name: 'a cell stands: it is cut first',
      log: [...out, eggs(17, cellSeen)],
      now: at(17, 12),
      window: null,
    },
    {
      name: 'a cell was cut, and nobody has looked for her yet',
      log: [...out, [at(14), facts.cut({ sealed: 1 })]],
      now: at(14, 12),
      window: null,
    },
    {
      name: 'a queen of one’s own, and no egg of hers',
      log: [...ownOut, looked(9, cellSeen), [at(9, 11), facts.cut({ sealed: 1 })]],
      now: at(9, 12),
      over: { startingPoint: 'own-laying-queen' },
      window: '13 00:00 | 13 10:00 | 14 23:59',
    },
    {
      name: 'a queen of one’s own lays, and the frames were not gone through',
      log: [...ownOut, eggs(9, { ...cellSeen, cellsTakenDown: true })],
      now: at(9, 12),
      over: { startingPoint: 'own-laying-queen' },
      window: '13 00:00 | 13 10:00 | 14 23:59',
    },
    {
      name: 'a queen of one’s own lays, and every frame was gone through: bees tear down what was missed',
      log: [...ownOut, eggs(9, cellSeen), [at(9, 11), facts.cut({ sealed: 1 })]],
      now: at(9, 12),
      over: { startingPoint: 'own-laying-queen' },
      window: null,
    },
    { name: 'she is dead', log: [...out, missed(17), dead(18)], now: at(19), window: null },
    { name: 'closed', log: [...out, missed(17), ended(18)], now: at(19), window: null },
    {
      name: 'she had sealed brood, and is not found',
      log: [...out, eggs(17), sealed(27), missed(35)],
      now: at(35, 12),
      window: '39 00:00 | 39 10:00 | 40 23:59',
    },
  ]);
});

describe('a cell beside her', () => {
  places('cut-after-release', [
    {
      name: 'seen in the look for her: today',
      log: [...out, eggs(17, cellSeen)],
      does: 'Cut the cell that was seen',
      now: at(17, 12),
      window: '17 00:00 | 17 10:00 | 18 23:59',
      why: 'a virgin from it would kill her',
    },
    {
      name: 'seen and cut',
      log: [...out, eggs(17, cellSeen), [at(17, 11), facts.cut({ sealed: 1 })]],
      now: at(17, 12),
      window: null,
    },
    { name: 'none was seen', log: [...out, eggs(17)], now: at(17, 12), window: null },
    {
      name: 'she was out before the second look, and is looked for today',
      log: [...course.slice(0, 3), [at(8, 11), facts.opened()], looked(14)],
      does: 'Look for cells beside her',
      now: at(14, 11),
      window: '14 00:00 | 14 10:00 | 15 23:59',
      why: 'One look before she came out misses cells',
    },
    { name: 'she is dead', log: [...out, looked(17, cellSeen), dead(17)], now: at(17, 12), window: null },
    { name: 'closed', log: [...out, looked(17, cellSeen), ended(17)], now: at(17, 12), window: null },
  ]);
});
