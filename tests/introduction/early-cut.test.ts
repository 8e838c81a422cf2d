/** The early cut: offered while she waits or cells stand, asked for where cells would open before the cut that counts. */
import { describe } from 'vitest';
import { split, type Entries, type Setup } from './support/conditions.ts';
import { at, cells, facts } from './support/field-log.ts';
import { may } from './support/permissions.ts';
import { places } from './support/places.ts';

const came = [at(2), facts.arrived()] as const;
const hung = [at(2, 11), facts.hung()] as const;
const here: Entries = [split, came];
const left = [at(3), facts.inspection({ cells: cells({ sealed: 2 }) })] as const;
const own: Setup = { startingPoint: 'own-laying-queen' };
const found: Setup = { startingPoint: 'hopelessly-queenless', openedAtMs: at(0) };
const ended = (day: number): Entries[number] => [at(day), { kind: 'outcome', outcome: 'given-up' }];
const waiting = '3 00:00 | 3 10:00 | 6 23:59';
const asItIs = 'It takes down what stands now';

describe('while she waits', () => {
  places('early-cut', [
    {
      name: 'from day 3 on most cells stand, and until the cut of day 7',
      log: here,
      now: at(2, 12),
      window: waiting,
      offered: true,
      why: asItIs,
    },
    {
      name: 'on day 5: today',
      log: here,
      now: at(5),
      window: '5 00:00 | 5 10:00 | 6 23:59',
      offered: true,
    },
    { name: 'on the morning of day 6', log: here, now: at(6, 7), window: '6 00:00 | 6 10:00', offered: true },
    { name: 'on day 7 the cut itself is made', log: here, now: at(7, 8), window: null },
    { name: 'she hangs', log: [...here, hung], now: at(2, 12), window: waiting, offered: true },
    {
      name: 'she was taken out again',
      log: [...here, hung, [at(2, 12), { kind: 'cage-taken-out', queen: 'in-the-cage' }]],
      now: at(2, 13),
      window: waiting,
      offered: true,
    },
    { name: 'she is not here', log: [split], now: at(3), window: null },
    { name: 'she is dead', log: [...here, [at(3), { kind: 'queen-dead' }]], now: at(3, 12), window: null },
    { name: 'she was let out', log: [...here, hung, [at(4), facts.opened()]], now: at(5), window: null },
    { name: 'closed', log: [...here, ended(3)], now: at(3, 12), window: null },
    {
      name: 'every frame was cut on day 4',
      log: [...here, [at(4), facts.cut({ open: 5 })]],
      now: at(4, 12),
      window: null,
    },
    {
      name: 'a frame was left out on day 4',
      log: [...here, [at(4), facts.cut({ open: 5 }, { everyFrameChecked: false })]],
      now: at(4, 12),
      window: '4 00:00 | 4 10:00 | 6 23:59',
      offered: true,
    },
    {
      name: 'every frame was looked through on day 4, and no cell seen',
      log: [...here, [at(4), facts.inspection()]],
      now: at(4, 12),
      window: '4 00:00 | 4 10:00 | 6 23:59',
      offered: true,
    },
    { name: 'a queen of one’s own', log: [split, came, hung], now: at(3), over: own, window: null },
    {
      name: 'a queen of one’s own under mesh',
      log: [split, came, hung],
      now: at(3),
      over: { ...own, method: 'push-in-cage' },
      window: null,
    },
    { name: 'she is here before the split', log: [came], now: at(3), window: null },
    { name: 'a hopeless colony', log: [came], now: at(3), over: found, window: null },
  ]);
});

describe('where cells stand', () => {
  places('early-cut', [
    {
      name: 'seen on day 3 and left: today, and no queen need be here',
      log: [split, left],
      now: at(3, 11),
      window: '3 00:00 | 3 10:00 | 6 23:59',
      offered: true,
      why: asItIs,
    },
    {
      name: 'seen on day 2 and left: today, before most stand',
      log: [split, [at(2), facts.inspection({ cells: cells({ open: 2 }) })]],
      now: at(2, 12),
      window: '2 00:00 | 2 10:00 | 6 23:59',
      offered: true,
    },
    {
      name: 'how old the cells are is not known: no day on which they open',
      log: [[at(0, 9), facts.hung()]],
      now: at(0),
      over: { startingPoint: 'queenless-with-cells', openedAtMs: at(0) },
      window: '3 00:00 | 3 10:00 | 6 23:59',
      offered: true,
    },
    {
      name: 'seen on day 3 and cut on day 4',
      log: [split, left, [at(4), facts.cut({ sealed: 2 })]],
      now: at(4, 11),
      window: null,
    },
    {
      name: 'seen on day 5, after a cut on day 4',
      log: [
        split,
        [at(4), facts.cut({ sealed: 2 })],
        [at(5), facts.inspection({ cells: cells({ open: 1 }) })],
      ],
      now: at(5, 11),
      window: '5 00:00 | 5 10:00 | 6 23:59',
      offered: true,
    },
    {
      name: 'seen after the cut of day 7: that is for the second look',
      log: [
        split,
        [at(7), facts.cut({ sealed: 2 })],
        [at(8), facts.inspection({ cells: cells({ open: 1 }) })],
      ],
      now: at(8, 11),
      window: null,
    },
    { name: 'seen on day 3, and closed', log: [split, left, ended(4)], now: at(4, 11), window: null },
  ]);
});

describe('where brood was brought in', () => {
  const given = (day: number): Entries[number] => [at(day), facts.broodAdded()];
  const opens = 'A virgin may emerge before the cut that counts';
  places('early-cut', [
    {
      name: 'on day 4: the first cells are cut the day before they may open',
      log: [split, given(4)],
      now: at(4, 11),
      window: '7 00:00 | 7 10:00 | 8 22:00',
      why: opens,
    },
    {
      name: 'on day 4, and she waits: the same day',
      log: [...here, given(4)],
      now: at(4, 11),
      window: '7 00:00 | 7 10:00 | 8 22:00',
      why: opens,
    },
    {
      name: 'on day 4, and a day late',
      log: [split, given(4)],
      now: at(9, 11),
      window: '7 00:00 | 9 10:00 | 8 22:00',
    },
    {
      name: 'on day 4, and it is the evening before the cut that counts',
      log: [split, given(4)],
      now: at(10, 20),
      window: '7 00:00 | 10 10:00 | 8 22:00',
    },
    {
      name: 'on day 4, and the cut that counts has come',
      log: [split, given(4)],
      now: at(11, 8),
      window: null,
    },
    {
      name: 'on day 4, and cut on day 6: no cell of before opens, and new ones take till day 14',
      log: [split, given(4), [at(6), facts.cut({ sealed: 5 })]],
      now: at(6, 11),
      window: null,
    },
    {
      name: 'on day 6, after a cut on day 2: once more',
      log: [split, [at(2), facts.cut({ open: 2 })], given(6)],
      now: at(6, 11),
      window: '9 00:00 | 9 10:00 | 10 10:00',
      why: opens,
    },
    {
      name: 'on day 1: the cut of day 8 comes before any of them opens',
      log: [split, given(1)],
      now: at(1, 11),
      window: null,
    },
    {
      name: 'on day 8, after the cut of day 7',
      log: [split, [at(7), facts.cut({ sealed: 5 })], given(8)],
      now: at(8, 11),
      window: null,
    },
    {
      name: 'sealed brood on day 4: nothing is put off',
      log: [split, [at(4), facts.broodAdded({ brood: 'sealed-only' })]],
      now: at(4, 11),
      window: null,
    },
    {
      name: 'on day 4, and she was let out',
      log: [...here, hung, [at(3), facts.opened()], given(4)],
      now: at(4, 11),
      window: null,
    },
  ]);
});

describe('may be made', () => {
  const rain = { weather: { text: 'It rains.', fitToOpen: false } } as const;
  may('early-cut', [
    { name: 'on day 4', log: here, now: at(4), answer: 'go' },
    {
      name: 'in the rain: tomorrow',
      log: here,
      now: at(4),
      evidence: rain,
      answer: 'wait',
      untilMs: at(5, 0),
      says: 'It rains.',
    },
    { name: 'before the split', log: [came], now: at(3), answer: 'wait', first: 'split' },
    { name: 'closed', log: [...here, ended(3)], now: at(4), answer: 'stop' },
  ]);
});
