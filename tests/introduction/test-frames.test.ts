/**
 * What a frame with eggs and young larvae tells. Bees without a queen start cells within 12-48 h (Fell and Morse 1984);
 * after eight days a virgin may come of the frame itself. Cells are proof whenever they stand.
 */
import { describe, expect, it } from 'vitest';
import { effectiveFacts } from '../../server/introduction/log/effective-facts.ts';
import type { FactPayload } from '../../server/introduction/log/facts.ts';
import { testFrames, type TestFrame } from '../../server/introduction/log/test-frames.ts';
import { at, facts, logOf } from './support/field-log.ts';
import { places } from './support/places.ts';

type Entries = readonly (readonly [number, FactPayload])[];

const put = (day: number, hour = 10): Entries[number] => [
  at(day, hour),
  facts.broodAdded({ asTestFrame: true }),
];
const taken = (day: number, cellsOnIt?: number, hour = 10): Entries[number] => [
  at(day, hour),
  facts.broodTaken(cellsOnIt === undefined ? {} : { cellsOnIt }),
];
const queen = (day: number, hour = 10): Entries[number] => [
  at(day, hour),
  { kind: 'queen-removed', which: 'virgin' },
];

it.each<readonly [name: string, log: Entries, answers: readonly TestFrame['answer'][]]>([
  ['cells after two days', [put(10), taken(12, 3)], ['no-queen']],
  ['cells after half a day', [put(10), taken(10, 1, 22)], ['no-queen']],
  ['no cell after two days', [put(10), taken(12, 0)], ['maybe-a-queen']],
  ['no cell after a day', [put(10), taken(11, 0)], ['maybe-a-queen']],
  ['no cell after an hour less', [put(10), taken(11, 0, 9)], ['too-short']],
  ['cells not counted', [put(10), taken(12)], ['not-counted']],
  ['not counted after eight days', [put(10), taken(18)], ['not-counted']],
  ['cells after eight days less an hour', [put(10), taken(18, 3, 9)], ['no-queen']],
  ['cells after eight days: a virgin may be out', [put(10), taken(18, 3)], ['too-long']],
  ['still in', [put(10)], ['still-in']],
  [
    'a frame of brood that was no test goes in and out',
    [[at(9), facts.broodAdded()], put(10), [at(11), facts.broodTaken({ asTestFrame: false, cellsOnIt: 3 })]],
    ['still-in'],
  ],
  [
    'the next goes in as the first comes out',
    [put(10), taken(12, 0), put(12), taken(14, 2)],
    ['maybe-a-queen', 'no-queen'],
  ],
  ['nobody wrote down that the first came out', [put(10), put(14), taken(16, 2)], ['still-in', 'no-queen']],
  ['cells, and a queen was taken meanwhile', [put(10), queen(11), taken(12, 3)], ['no-queen']],
  [
    'no cell, and a queen was taken in its last hours: she held the bees back',
    [put(10), queen(11, 20), taken(12, 0)],
    ['queen-was-taken'],
  ],
  ['no cell, and a queen was found and taken since', [put(10), taken(12, 0), queen(14)], ['queen-was-taken']],
  [
    'no cell a day after a queen was taken: there is another',
    [put(10), queen(11), taken(12, 0)],
    ['maybe-a-queen'],
  ],
  ['no cell, and a queen was taken before it went in', [queen(9), put(10), taken(12, 0)], ['maybe-a-queen']],
  [
    'no cell after some hours, and a queen was taken',
    [put(10), queen(10, 15), taken(10, 0, 20)],
    ['too-short'],
  ],
])('%s: %j', (_, log, answers) => {
  expect(testFrames(effectiveFacts('intro-one', logOf(log), at(99))).map(({ answer }) => answer)).toEqual(
    answers,
  );
});

it('keeps the days and the count', () => {
  const frames = testFrames(
    effectiveFacts('intro-one', logOf([put(10), taken(12, 3), put(13), taken(15)]), at(99)),
  );
  expect(frames).toMatchObject([
    { inMs: at(10), outMs: at(12), cells: 3 },
    { inMs: at(13), outMs: at(15), cells: null },
  ]);
});

const missed = facts.looked({ queenSeen: false, eggsSeen: false });
const outAndMissed = (released: number): Entries => [
  [at(0), facts.inspection({ youngestBrood: 'sealed-only' })],
  put(0, 10.25),
  taken(2, 0),
  put(2, 10.5),
  [at(3), facts.arrived()],
  [at(3, 11), facts.hung()],
  [at(released, 12), { kind: 'queen-escaped', to: 'into-the-nuc' }],
  taken(6, 0),
  [at(released + 7), missed],
  [at(released + 11), missed],
];

describe('a frame that is in when she is let out', () => {
  const letOut = (day: number): Entries => [
    [at(0), facts.split()],
    [at(7), facts.cut({ sealed: 8 })],
    [at(7, 10.5), facts.hung()],
    put(10),
    [at(day, 11), facts.opened()],
  ];
  places('test-frame-out', [
    {
      name: 'comes out in the visit that looks for her',
      log: letOut(10),
      now: at(10, 12),
      window: '16 11:00 | 17 10:00',
    },
    {
      name: 'comes out the day before its cells may open, where that is sooner',
      log: letOut(11),
      now: at(11, 12),
      window: '17 00:00 | 17 10:00',
    },
    {
      name: 'was in for days when she was let out',
      log: letOut(16),
      now: at(16, 12),
      window: '17 00:00 | 17 10:00',
    },
  ]);
});

describe('two frames without cells, and a queen that two looks did not find', () => {
  places('test-frame-in', [
    {
      name: 'the second went in before she was let out: another one tells',
      log: outAndMissed(3),
      now: at(18),
      over: { startingPoint: 'hopelessly-queenless', openedAtMs: at(0) },
      window: '18 00:00 | 18 10:00',
      why: 'not found by two looks',
    },
  ]);
});
