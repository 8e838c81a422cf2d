/** On which day she hangs and is let out; where that has no place there is none. Days are common practice. */
import { describe } from 'vitest';
import { course, out } from './support/after-release.ts';
import { frame, split, type Entries, type Setup } from './support/conditions.ts';
import { at, facts } from './support/field-log.ts';
import { places } from './support/places.ts';

const came = (day: number, over: Parameters<typeof facts.arrived>[0] = {}): Entries[number] => [
  at(day),
  facts.arrived(over),
];
const cut7 = [at(7), facts.cut({ sealed: 8 })] as const;
const hung = [at(7, 10.5), facts.hung()] as const;
const few = [at(0), facts.split({ framesOfBees: 1 })] as const;
const ended = (day: number): Entries[number] => [at(day), { kind: 'outcome', outcome: 'given-up' }];
const own: Setup = { startingPoint: 'own-laying-queen' };
const found: Setup = { startingPoint: 'hopelessly-queenless', openedAtMs: at(0) };

describe('hang the cage', () => {
  places('hang-cage', [
    {
      name: 'she came two days before the cut: that day',
      log: [split, came(5)],
      now: at(5, 11),
      window: '5 10:00 | 5 10:00 | 6 23:59',
    },
    {
      name: 'she came the day before the cut: with it',
      log: [split, came(6)],
      now: at(6, 11),
      window: '6 10:00 | 7 10:00 | 8 23:59',
      why: 'in the visit of the cut',
    },
    {
      name: 'she came the day before the cut, which is not made: her last day stays',
      log: [split, came(6)],
      now: at(8, 11),
      window: '6 10:00 | 8 10:00 | 8 23:59',
    },
    {
      name: 'she came when the cut was overdue: it does not put off her last day',
      log: [split, came(9)],
      now: at(10, 11),
      window: '9 10:00 | 10 10:00 | 10 23:59',
    },
    {
      name: 'she came weak the day before',
      log: [split, came(6, { condition: 'weak' })],
      now: at(6, 11),
      window: '6 10:00 | 6 10:00 | 7 23:59',
      why: 'She is at hand',
    },
    {
      name: 'the bees are too few the day before',
      log: [few, came(6)],
      now: at(6, 11),
      window: '6 10:00 | 6 10:00 | 7 23:59',
    },
    {
      name: 'a queen of one’s own, the day before',
      log: [split, came(6)],
      now: at(6, 11),
      over: own,
      window: '6 10:00 | 6 10:00 | 7 23:59',
    },
    {
      name: 'she came the day before, the cells were cut before',
      log: [split, cut7, came(8)],
      now: at(8, 11),
      window: '8 10:00 | 8 10:00 | 9 23:59',
      why: 'She is at hand',
    },
    {
      name: 'she came and a virgin was taken away since',
      log: [split, came(5), [at(9, 15), { kind: 'queen-removed', which: 'virgin' }]],
      now: at(9, 16),
      window: '9 15:00 | 9 15:00 | 10 23:59',
    },
    {
      name: 'taken out and in the hand again',
      log: [...course, [at(11), { kind: 'cage-taken-out', queen: 'in-the-cage' }]],
      now: at(11, 12),
      window: '11 10:00 | 11 10:00 | 12 23:59',
    },
    {
      name: 'taken out the day before the cut: she does not wait for it',
      log: [
        split,
        came(6),
        [at(6, 11), facts.hung()],
        [at(6, 12), { kind: 'cage-taken-out', queen: 'in-the-cage' }],
      ],
      now: at(6, 13),
      window: '6 12:00 | 6 12:00 | 7 23:59',
      why: 'She is at hand',
    },
    {
      name: 'a queen of one’s own, planned under mesh: the day after the split, and the mesh is lifted days later',
      log: [split],
      now: at(0, 12),
      over: { ...own, method: 'push-in-cage' },
      window: '0 10:00 | 1 10:00 | 4 10:00',
    },
    {
      name: 'in a hopeless colony, with the look on every frame',
      log: [],
      now: at(0, 12),
      over: found,
      window: '0 10:00 | 0 10:00 | 0 23:59',
    },
    {
      name: 'in a hopeless colony, and she comes on day 3',
      log: [],
      now: at(0, 12),
      over: { ...found, expectedQueenMs: at(3) },
      window: '3 10:00 | 3 10:00 | 3 23:59',
    },
    { name: 'she hangs', log: course, now: at(11), window: '7 10:30 | 7 10:30', done: true },
    {
      name: 'expected on day 6, and it is day 6',
      log: [split],
      now: at(6, 22),
      over: { expectedQueenMs: at(6) },
      window: '6 10:00 | 7 10:00',
      why: 'She may hang from the day of the split on',
    },
    {
      name: 'in a colony that was never split',
      log: [[at(0), { kind: 'queen-removed', which: 'old-queen', cellsAlreadyThere: 'none' }]],
      now: at(1),
      over: { startingPoint: 'requeened-in-place' },
      window: '0 10:00 | 7 10:00',
      why: 'She may hang from the day on which she comes',
    },
    {
      name: 'expected on day 6, and it is day 7',
      log: [split],
      now: at(7, 9),
      over: { expectedQueenMs: at(6) },
      window: '6 10:00 | 7 10:00',
      offered: true,
      why: 'She is not logged as arrived.',
    },
    {
      name: 'expected on day 6, her delivery is here',
      log: [split],
      now: at(7, 9),
      over: { expectedQueenMs: at(6), deliveryIsHere: true },
      window: '6 10:00 | 7 10:00',
    },
    {
      name: 'nobody is expected',
      log: [split, cut7, [at(10), facts.cut()]],
      now: at(14),
      window: '0 10:00 | 14 10:00',
      offered: true,
      why: 'No queen is logged or expected',
    },
    { name: 'she died', log: [split, came(5), [at(6), { kind: 'queen-dead' }]], now: at(7), window: null },
    {
      name: 'she flew off',
      log: [split, came(5), [at(6), { kind: 'queen-escaped', to: 'outside' }]],
      now: at(7),
      window: null,
    },
    { name: 'closed', log: [split, came(5), ended(6)], now: at(7), window: null },
  ]);
});

describe('let her out', () => {
  places('open-candy', [
    { name: 'after the second look', log: [split, cut7, hung], now: at(8), window: '10 00:00 | 10 10:00' },
    { name: 'with the second look', log: course, now: at(10, 12), window: '10 00:00 | 10 10:00' },
    {
      name: 'on the last day of her time in the cage: to its end, whatever the hour at which she came',
      log: [split, [at(0, 11), facts.arrived()], [at(0, 11.5), facts.hung()], cut7, [at(10), facts.cut()]],
      now: at(10, 12),
      window: '10 00:00 | 10 10:00 | 10 23:59',
    },
    {
      name: 'after a balling: once the bees had three days',
      log: [
        ...course.slice(0, 3),
        [at(8), { kind: 'balled', rescued: true }],
        [at(8, 10.5), facts.hung()],
        [at(10), facts.cut()],
      ],
      now: at(10, 12),
      window: '11 00:00 | 11 10:00',
    },
    {
      name: 'after a test frame that went in with the second look: two days',
      log: [...course, [at(10, 12), facts.broodAdded({ asTestFrame: true })]],
      now: at(10, 13),
      window: '12 00:00 | 12 10:00',
    },
    {
      name: 'after a test frame that came out',
      log: [...course, ...frame(11, 13, 3)],
      now: at(13, 12),
      window: '13 00:00 | 13 10:00',
    },
    { name: 'she is out', log: out, now: at(12), window: '10 11:00 | 10 11:00', done: true },
    {
      name: 'out of a hopeless colony, not looked through',
      log: [
        [at(0), facts.arrived()],
        [at(1), facts.hung()],
      ],
      now: at(3, 12),
      over: found,
      window: '3 00:00 | 3 10:00',
    },
    {
      name: 'a queen of one’s own, on the day of the cut',
      log: [split, came(1), [at(1, 11), facts.hung()]],
      now: at(2),
      over: own,
      window: '2 10:00 | 2 10:00 | 2 23:59',
      why: 'When every cell was cut that day',
    },
    {
      name: 'a queen of one’s own, hung once the cells were cut that day',
      log: [split, [at(2), facts.cut()], [at(2, 11), facts.hung()]],
      now: at(2, 12),
      over: own,
      window: '2 10:00 | 2 11:00 | 2 23:59',
    },
    {
      name: 'one that has been in her cage since day 4: ten days are the most',
      log: [split, came(4), ...course.slice(1)],
      now: at(10, 12),
      window: '10 00:00 | 10 10:00 | 14 10:00',
    },
    {
      name: 'from under the mesh',
      log: course,
      now: at(10, 12),
      over: { method: 'push-in-cage' },
      window: '10 00:00 | 10 10:00',
      why: 'Only when no cell',
    },
    {
      name: 'nobody hangs nor comes',
      log: [split, came(5), [at(6), { kind: 'queen-dead' }]],
      now: at(7),
      window: null,
    },
    { name: 'closed', log: [...course, ended(11)], now: at(12), window: null },
  ]);
});
