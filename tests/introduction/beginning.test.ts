/** How it begins: the split, the old queen, the delivery, and the first look, each on its day. Days are common practice. */
import { describe } from 'vitest';
import { split, type Entries, type Setup } from './support/conditions.ts';
import { at, facts } from './support/field-log.ts';
import { places } from './support/places.ts';

const inPlace: Setup = { startingPoint: 'requeened-in-place', openedAtMs: at(-1) };
const withCells: Setup = { startingPoint: 'queenless-with-cells', openedAtMs: at(-1) };
const own: Setup = { startingPoint: 'own-laying-queen', openedAtMs: at(-1) };
const opened: Setup = { openedAtMs: at(-1) };
const ended = (day: number): Entries[number] => [at(day), { kind: 'outcome', outcome: 'given-up' }];
const taken = (day: number, which: 'old-queen' | 'virgin'): Entries[number] => [
  at(day),
  { kind: 'queen-removed', which },
];
const came = [at(0), facts.arrived()] as const;
const through = (day: number, over: Parameters<typeof facts.inspection>[0] = {}): Entries[number] => [
  at(day),
  facts.inspection(over),
];

describe('the split', () => {
  const counted = 'From it the days are counted';
  places('split', [
    { name: 'no date is known', log: [], now: at(0, 12), over: opened, window: null },
    {
      name: 'planned',
      log: [],
      now: at(0, 12),
      over: { ...opened, plannedSplitMs: at(3) },
      window: '3 00:00 | 3 10:00 | 5 00:00',
      why: counted,
    },
    {
      name: 'planned, and that day has gone by: today',
      log: [],
      now: at(5, 12),
      over: { ...opened, plannedSplitMs: at(3) },
      window: '5 00:00 | 5 10:00 | 7 00:00',
    },
    {
      name: 'a week before the queen comes',
      log: [],
      now: at(0, 12),
      over: { ...opened, expectedQueenMs: at(10) },
      window: '2 00:00 | 3 10:00 | 4 23:59',
      why: 'Best a week before the queen comes',
    },
    {
      name: 'she comes in three days: today, and not overdue before the day ends',
      log: [],
      now: at(0, 12),
      over: { ...opened, expectedQueenMs: at(3) },
      window: '-5 00:00 | 0 10:00 | 0 23:59',
    },
    {
      name: 'she is at hand: today',
      log: [came],
      now: at(0, 12),
      over: opened,
      window: '0 00:00 | 0 10:00 | 2 00:00',
    },
    {
      name: 'she is at hand since yesterday: today',
      log: [came],
      now: at(1, 12),
      over: opened,
      window: '1 00:00 | 1 10:00 | 3 00:00',
    },
    {
      name: 'made',
      log: [split],
      now: at(1, 12),
      over: opened,
      window: '0 00:00 | 0 10:00 | 2 00:00',
      done: true,
    },
    {
      name: 'closed before it was made',
      log: [ended(0)],
      now: at(1, 12),
      over: { ...opened, plannedSplitMs: at(3) },
      window: null,
    },
    {
      name: 'closed after it was made',
      log: [split, ended(1)],
      now: at(2),
      over: opened,
      window: '0 00:00 | 0 10:00',
      done: true,
    },
    { name: 'a colony that was found with cells', log: [], now: at(0, 12), over: withCells, window: null },
    {
      name: 'and it was split',
      log: [split],
      now: at(0, 12),
      over: withCells,
      window: '0 00:00 | 0 10:00',
      done: true,
    },
    {
      name: 'a queen of one’s own, planned',
      log: [],
      now: at(0, 12),
      over: { ...own, plannedSplitMs: at(2) },
      window: '2 00:00 | 2 10:00 | 4 00:00',
    },
    {
      name: 'a queen of one’s own, and it was looked through without a split',
      log: [through(0)],
      now: at(0, 12),
      over: { ...own, plannedSplitMs: at(2) },
      window: null,
    },
  ]);
});

describe('the old queen', () => {
  places('find-old-queen', [
    {
      name: 'at the next visit',
      log: [],
      now: at(0, 9),
      over: inPlace,
      window: '0 00:00 | 0 10:00 | 2 00:00',
    },
    {
      name: 'in the afternoon: tomorrow',
      log: [],
      now: at(0, 12),
      over: inPlace,
      window: '1 00:00 | 1 10:00 | 3 00:00',
    },
    {
      name: 'on the day that was planned',
      log: [],
      now: at(0, 12),
      over: { ...inPlace, plannedSplitMs: at(3) },
      window: '3 00:00 | 3 10:00 | 5 00:00',
    },
    {
      name: 'on the day that was planned, its hour is past',
      log: [],
      now: at(0, 12),
      over: { ...inPlace, plannedSplitMs: at(0, 8) },
      window: '0 00:00 | 0 08:00 | 2 00:00',
    },
    {
      name: 'that day has gone by',
      log: [],
      now: at(1, 9),
      over: { ...inPlace, plannedSplitMs: at(0, 8) },
      window: '1 00:00 | 1 10:00 | 3 00:00',
    },
    {
      name: 'a week before the queen comes',
      log: [],
      now: at(0, 12),
      over: { ...inPlace, expectedQueenMs: at(10) },
      window: '2 00:00 | 3 10:00 | 4 23:59',
    },
    {
      name: 'she comes in two days',
      log: [],
      now: at(0, 12),
      over: { ...inPlace, expectedQueenMs: at(2) },
      window: '-6 00:00 | 1 10:00 | 1 23:59',
    },
    {
      name: 'the day that was planned, whenever the next one comes',
      log: [],
      now: at(0, 12),
      over: { ...inPlace, expectedQueenMs: at(10), plannedSplitMs: at(5) },
      window: '2 00:00 | 5 10:00 | 5 23:59',
    },
    {
      name: 'taken away',
      log: [taken(2, 'old-queen')],
      now: at(3),
      over: inPlace,
      window: '2 00:00 | 2 10:00 | 4 00:00',
      done: true,
    },
    {
      name: 'a virgin was taken away',
      log: [taken(0, 'virgin')],
      now: at(0, 9),
      over: inPlace,
      window: '0 00:00 | 0 10:00',
    },
    {
      name: 'a virgin was taken away before her',
      log: [taken(1, 'virgin'), taken(3, 'old-queen')],
      now: at(4),
      over: inPlace,
      window: '3 00:00 | 3 10:00',
      done: true,
      why: 'The days count from the hour',
    },
    {
      name: 'found with cells, and an old queen was found and taken: no act of its beginning',
      log: [taken(2, 'old-queen')],
      now: at(3),
      over: withCells,
      window: null,
    },
    { name: 'closed', log: [ended(0)], now: at(1), over: inPlace, window: null },
    { name: 'it was split', log: [split], now: at(1), over: inPlace, window: null },
    {
      name: 'a planned split',
      log: [],
      now: at(0),
      over: { ...opened, plannedSplitMs: at(3) },
      window: null,
    },
  ]);
});

describe('the delivery', () => {
  places('queen-arrives', [
    { name: 'none is on order', log: [split], now: at(1), window: null },
    {
      name: 'on day 7',
      log: [split],
      now: at(1),
      over: { expectedQueenMs: at(7) },
      window: '7 00:00 | 7 10:00 | 7 23:59',
      why: 'expected with the post that day',
    },
    {
      name: 'late: today',
      log: [split],
      now: at(9, 9),
      over: { expectedQueenMs: at(7) },
      window: '7 00:00 | 9 10:00 | 7 23:59',
    },
    {
      name: 'here, and she is not logged',
      log: [split],
      now: at(9, 9),
      over: { expectedQueenMs: at(7), deliveryIsHere: true },
      window: null,
    },
    {
      name: 'she came',
      log: [split, [at(6), facts.arrived()]],
      now: at(6, 12),
      over: { expectedQueenMs: at(7) },
      window: null,
    },
    {
      name: 'she came dead: the next one, some day',
      log: [split, [at(6), facts.arrived({ condition: 'dead' })]],
      now: at(6, 12),
      over: { expectedQueenMs: at(7) },
      window: '6 00:00 | 6 10:00 | 7 23:59',
      offered: true,
      why: 'A queen that comes now is logged as the next one.',
    },
    {
      name: 'she flew off: the next one',
      log: [split, [at(6), facts.arrived()], [at(6, 11), { kind: 'queen-escaped', to: 'outside' }]],
      now: at(6, 12),
      window: '6 00:00 | 6 10:00 | 7 23:59',
      offered: true,
    },
    { name: 'closed', log: [split, ended(3)], now: at(4), over: { expectedQueenMs: at(7) }, window: null },
    {
      name: 'she came dead, and it is closed',
      log: [split, [at(6), facts.arrived({ condition: 'dead' })], ended(7)],
      now: at(8),
      window: null,
    },
    {
      name: 'she came dead, and neither a split nor another queen has a date',
      log: [[at(0), facts.arrived({ condition: 'dead' })]],
      now: at(1),
      over: opened,
      window: null,
    },
    {
      name: 'she is on order, and the split has no other date',
      log: [],
      now: at(6, 12),
      over: { expectedQueenMs: at(17) },
      window: '17 00:00 | 17 10:00 | 17 23:59',
    },
  ]);
});
