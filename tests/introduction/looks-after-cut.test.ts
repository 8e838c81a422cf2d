/** The looks for cells after the cut: on which day, with which visit, and where another would tell nothing. */
import { describe } from 'vitest';
import { split, type Entries, type Setup } from './support/conditions.ts';
import { at, cells, facts } from './support/field-log.ts';
import { places } from './support/places.ts';

const cut7 = [at(7), facts.cut({ sealed: 8 })] as const;
const part = (day: number): Entries[number] => [
  at(day),
  facts.cut({ sealed: 1 }, { everyFrameChecked: false }),
];
const hung = [at(7, 10.5), facts.hung()] as const;
const hungLater = [at(10, 11), facts.hung()] as const;
const found: Entries[number] = [at(10), facts.cut({ sealed: 1 })];
const clean = [at(10), facts.cut()] as const;
const came = (day: number): Entries[number] => [at(day), facts.arrived()];
const seen = (day: number, hour = 10): Entries[number] => [
  at(day, hour),
  facts.inspection({ cells: cells({ open: 1 }) }),
];
const opened = (day: number): Entries[number] => [at(day, 11), facts.opened()];
const ended = (day: number): Entries[number] => [at(day), { kind: 'outcome', outcome: 'given-up' }];
const mesh: Setup = { method: 'push-in-cage' };

describe('the second look', () => {
  const usual = '9 00:00 | 10 10:00 | 11 23:59';
  const missed = 'It finds most of the cells that the first look missed.';
  const leftOut = 'Frames were left out today';
  places('second-look', [
    {
      name: 'three days after the cut that is planned',
      log: [split],
      now: at(3),
      window: usual,
      why: missed,
    },
    { name: 'three days after the cut', log: [split, cut7], now: at(8), window: usual, why: missed },
    {
      name: 'today once its day has gone by',
      log: [split, cut7],
      now: at(11, 9),
      window: '9 00:00 | 11 10:00 | 11 23:59',
    },
    { name: 'nothing has begun', log: [], now: at(0), window: null },
    { name: 'made', log: [split, cut7, clean], now: at(10, 12), window: usual, done: true, why: missed },
    {
      name: 'made, and looked through again since: the day on which it was made',
      log: [split, cut7, clean, [at(12), facts.cut()]],
      now: at(13),
      window: '9 00:00 | 10 10:00 | 11 23:59',
      done: true,
    },
    {
      name: 'cells were seen since the cut: today',
      log: [split, cut7, seen(8)],
      now: at(8, 12),
      window: '8 00:00 | 8 10:00 | 9 23:59',
      why: 'Living cells were seen and left.',
    },
    {
      name: 'cells were seen before the cut: they are for the cut',
      log: [split, seen(5)],
      now: at(6),
      window: usual,
      why: missed,
    },
    {
      name: 'cells were seen after it',
      log: [split, cut7, clean, seen(11)],
      now: at(11, 12),
      window: usual,
      done: true,
    },
    {
      name: 'the cut left a frame out, and it is day 8',
      log: [split, part(7)],
      now: at(8),
      window: '9 00:00 | 9 10:00 | 11 23:59',
    },
    {
      name: 'the cut left a frame out, and day 9 begins: that day',
      log: [split, part(7)],
      now: at(9, 0),
      window: '9 00:00 | 9 10:00 | 11 23:59',
      why: missed,
    },
    {
      name: 'the cut left a frame out, and it is day 11: today, no day back',
      log: [split, part(7)],
      now: at(11, 8),
      window: '9 00:00 | 11 10:00 | 11 23:59',
    },
    {
      name: 'the frame that was left out was gone through on day 8',
      log: [split, part(7), [at(8), facts.cut()]],
      now: at(9, 8),
      window: usual,
    },
    {
      name: 'a frame is left out at the second look: the same visit',
      log: [split, cut7, part(10)],
      now: at(10, 12),
      window: usual,
      why: leftOut,
    },
    {
      name: 'a frame was left out the day before',
      log: [split, cut7, part(10)],
      now: at(11, 12),
      window: '9 00:00 | 11 10:00 | 11 23:59',
      why: missed,
    },
    {
      name: 'a frame is left out at the cut itself: nothing of the second look',
      log: [split, part(7)],
      now: at(7, 12),
      window: '9 00:00 | 9 10:00 | 11 23:59',
      why: missed,
    },
    {
      name: 'a frame is left out again on day 9',
      log: [split, part(7), part(9)],
      now: at(9, 12),
      window: '9 00:00 | 9 10:00 | 11 23:59',
      why: leftOut,
    },
    {
      name: 'a cell is taken down as she is looked for: no frame was to be gone through',
      log: [
        split,
        cut7,
        [
          at(10),
          facts.looked({
            cageEmpty: false,
            queenSeen: false,
            eggsSeen: false,
            cells: cells({ sealed: 1 }),
            cellsTakenDown: true,
          }),
        ],
      ],
      now: at(10, 12),
      window: usual,
      why: missed,
    },
    {
      name: 'a frame is left out at a look that cuts nothing',
      log: [split, cut7, [at(10), facts.inspection({ everyFrameChecked: false })]],
      now: at(10, 12),
      window: usual,
      why: missed,
    },
    { name: 'she was let out before it', log: [split, cut7, hung, opened(8)], now: at(9), window: null },
    {
      name: 'she was let out after it',
      log: [split, cut7, hung, clean, opened(10)],
      now: at(12),
      window: usual,
      done: true,
    },
    { name: 'closed before it', log: [split, cut7, ended(8)], now: at(9), window: null },
    { name: 'closed after it', log: [split, cut7, clean, ended(11)], now: at(12), window: usual, done: true },
    {
      name: 'a queen of one’s own',
      log: [split, cut7],
      now: at(8),
      over: { startingPoint: 'own-laying-queen' },
      window: null,
    },
  ]);
});

describe('one more look', () => {
  const two: Entries = [split, cut7, found];
  places('one-more-look', [
    {
      name: 'a cell was found, and she hangs since day 7: the next day',
      log: [split, cut7, hung, found],
      now: at(10, 12),
      window: '11 00:00 | 11 10:00 | 17 10:00',
      why: 'One more look on every frame',
    },
    {
      name: 'she hangs since day 10: as she may be let out',
      log: [...two, hungLater],
      now: at(10, 12),
      window: '11 00:00 | 12 10:00 | 17 10:00',
    },
    {
      name: 'under mesh since day 10: as it may be lifted',
      log: [...two, hungLater],
      now: at(10, 12),
      over: mesh,
      window: '11 00:00 | 13 10:00 | 17 10:00',
    },
    {
      name: 'she is in the hand, and hangs today: the next day that tells',
      log: [split, cut7, came(9), found],
      now: at(10, 12),
      window: '11 00:00 | 11 10:00 | 17 10:00',
    },
    {
      name: 'she came on day 12: as she is hung',
      log: [...two, came(12)],
      now: at(12, 11),
      window: '11 00:00 | 12 10:00 | 17 10:00',
    },
    {
      name: 'she comes on day 13: as she is hung',
      log: two,
      now: at(10, 12),
      over: { expectedQueenMs: at(13) },
      window: '11 00:00 | 13 10:00 | 17 10:00',
    },
    {
      name: 'she was to come on day 9: she may come any day',
      log: two,
      now: at(10, 12),
      over: { expectedQueenMs: at(9) },
      window: '11 00:00 | 12 10:00 | 17 10:00',
    },
    { name: 'nobody is expected', log: two, now: at(10, 12), window: '11 00:00 | 12 10:00 | 17 10:00' },
    {
      name: 'she flew off: no visit for her',
      log: [...two, hungLater, [at(10, 11.5), { kind: 'queen-escaped', to: 'outside' }]],
      now: at(10, 12),
      window: '11 00:00 | 11 10:00 | 17 10:00',
    },
    {
      name: 'a test frame is in: as it comes out',
      log: [...two, hungLater, [at(10, 12), facts.broodAdded({ asTestFrame: true })]],
      now: at(10, 13),
      over: mesh,
      window: '11 00:00 | 12 10:00 | 17 10:00',
    },
    {
      name: 'a test frame goes in today: the look does not wait for it',
      log: [split, cut7, hung, [at(10), facts.cut({ sealed: 1, emerged: 1 })]],
      now: at(10, 12),
      window: '11 00:00 | 11 10:00 | 17 10:00',
    },
    {
      name: 'so many were found that a test frame comes first',
      log: [split, cut7, hung, [at(10), facts.cut({ sealed: 8 })]],
      now: at(11, 12),
      window: null,
    },
    {
      name: 'cells were seen since: today',
      log: [split, cut7, hung, clean, seen(11)],
      now: at(11, 12),
      window: '11 00:00 | 11 10:00 | 12 23:59',
      why: 'Living cells were seen and left.',
    },
    {
      name: 'cells were seen before the second look',
      log: [split, cut7, hung, seen(8)],
      now: at(8, 12),
      window: null,
    },
    { name: 'she is out', log: [split, cut7, hung, found, opened(10)], now: at(11), window: null },
    { name: 'closed', log: [split, cut7, hung, found, ended(10)], now: at(11), window: null },
    {
      name: 'a queen of one’s own',
      log: [split, cut7, found],
      now: at(10, 12),
      over: { startingPoint: 'own-laying-queen' },
      window: null,
    },
  ]);
});
