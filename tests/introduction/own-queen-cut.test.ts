/** A laying queen of one’s own: every cell is cut once, on the day on which she is let out (common practice). */
import { describe, expect, it } from 'vitest';
import { firstCutDay, firstVirginDays, pushInCageDays } from '../../server/biology/figures.ts';
import { answerFor } from '../../server/introduction/acts/answer.ts';
import { rowOf } from '../../server/introduction/acts/table.ts';
import { split, type Entries, type Setup } from './support/conditions.ts';
import { at, facts, stateAt } from './support/field-log.ts';
import { places } from './support/places.ts';

const own: Setup = { startingPoint: 'own-laying-queen' };
const mesh: Setup = { ...own, method: 'push-in-cage' };
const few = [at(0), facts.split({ framesOfBees: 1 })] as const;
const hung = [at(1, 11), facts.hung()] as const;
const caged: Entries = [split, hung];
const cut = (day: number, hour = 10): Entries[number] => [at(day, hour), facts.cut()];
const opened = [at(2, 11), facts.opened()] as const;
const dead = [at(2, 11), { kind: 'queen-dead' }] as const;
const bites = [at(2), facts.atCage({ behaviour: 'biting' })] as const;

const balledUnderMesh: Entries = [
  ...caged,
  cut(5),
  [at(5, 11), { kind: 'balled', rescued: true }],
  [at(5, 11.5), facts.hung()],
];

describe('the day of the cut', () => {
  places('cut-cells', [
    {
      name: 'the day after the split, and before a virgin may emerge',
      log: [split],
      now: at(0, 12),
      over: own,
      window: '0 10:00 | 1 10:00 | 8 22:00',
      why: 'needs every cell cut on the day on which she is let out',
    },
    {
      name: 'the day on which she comes',
      log: [split],
      now: at(0, 12),
      over: { ...own, expectedQueenMs: at(3) },
      window: '0 10:00 | 3 10:00 | 8 22:00',
    },
    { name: 'today while she hangs', log: caged, now: at(2, 8), over: own, window: '0 10:00 | 2 10:00' },
    {
      name: 'the day on which the mesh is lifted, not hung yet',
      log: [split],
      now: at(0, 12),
      over: mesh,
      window: '4 00:00 | 5 10:00',
    },
    {
      name: 'the day on which the mesh is lifted, and she comes on day 3',
      log: [split],
      now: at(0, 12),
      over: { ...mesh, expectedQueenMs: at(3) },
      window: '6 00:00 | 7 10:00',
    },
    {
      name: 'the day on which the mesh is lifted',
      log: caged,
      now: at(2, 8),
      over: mesh,
      window: '4 00:00 | 5 10:00',
    },
    {
      name: 'made today',
      log: [...caged, cut(2)],
      now: at(2, 12),
      over: own,
      window: '0 10:00 | 2 10:00',
      done: true,
    },
    {
      name: 'made yesterday: again today',
      log: [...caged, cut(2)],
      now: at(3, 9),
      over: own,
      window: '0 10:00 | 3 10:00',
    },
    {
      name: 'made too early under mesh: again on the day on which it is lifted',
      log: [...caged, cut(3)],
      now: at(3, 12),
      over: mesh,
      window: '4 00:00 | 5 10:00',
    },
    {
      name: 'made, then she was balled under the mesh: again when she has had her days',
      log: balledUnderMesh,
      now: at(5, 12),
      over: mesh,
      window: '8 00:00 | 9 10:00',
      offered: true,
    },
    {
      name: 'made before she was let out',
      log: [...caged, cut(2), opened],
      now: at(4, 9),
      over: own,
      window: '0 10:00 | 2 10:00',
      done: true,
    },
    { name: 'she was let out without it', log: [...caged, opened], now: at(4, 9), over: own, window: null },
    { name: 'she is dead', log: [...caged, dead], now: at(4, 9), over: own, window: null },
    {
      name: 'made, and she died that day',
      log: [...caged, cut(2), dead],
      now: at(2, 12),
      over: own,
      window: '0 10:00 | 2 10:00',
      done: true,
    },
    {
      name: 'she flew off',
      log: [...caged, [at(2, 11), { kind: 'queen-escaped', to: 'outside' }]],
      now: at(4, 9),
      over: own,
      window: null,
    },
    {
      name: 'a test frame is in: once it has told',
      log: [...caged, [at(1, 11), facts.broodAdded({ asTestFrame: true })]],
      now: at(2, 9),
      over: own,
      window: '0 10:00 | 3 10:00',
    },
    {
      name: 'a test frame came out',
      log: [
        ...caged,
        [at(1, 11), facts.broodAdded({ asTestFrame: true })],
        [at(3), facts.broodTaken({ cellsOnIt: 2 })],
      ],
      now: at(4, 9),
      over: own,
      window: '0 10:00 | 4 10:00',
    },
    {
      name: 'the old queen was not seen: once eggs would tell',
      log: [[at(0), facts.split({ oldQueen: 'not-seen' })], hung],
      now: at(2, 9),
      over: own,
      window: '0 10:00 | 4 10:00',
    },
    {
      name: 'closed',
      log: [...caged, cut(2), [at(3), { kind: 'outcome', outcome: 'given-up' }]],
      now: at(4),
      over: own,
      window: null,
    },
  ]);
});

describe('whether she can be let out that day', () => {
  places('cut-cells', [
    {
      name: 'too few bees, and she is not hung',
      log: [few],
      now: at(1, 9),
      over: own,
      window: '0 10:00 | 1 10:00',
      offered: true,
    },
    {
      name: 'bees enough, and she is not hung',
      log: [split],
      now: at(1, 9),
      over: own,
      window: '0 10:00 | 1 10:00',
    },
    {
      name: 'she hangs, and they bite',
      log: [...caged, bites],
      now: at(2, 12),
      over: own,
      window: '0 10:00 | 2 10:00',
      offered: true,
    },
    {
      name: 'long without a queen, no sign of laying workers, and they bite',
      log: [
        ...caged,
        [at(22), facts.inspection({ youngestBrood: 'none', everyFrameChecked: false })],
        [at(22, 11), facts.atCage({ behaviour: 'biting' })],
      ],
      now: at(22, 12),
      over: own,
      window: '0 10:00 | 22 10:00',
      offered: true,
    },
    {
      name: 'they bit, and the cut is made',
      log: [...caged, bites, cut(2, 11)],
      now: at(2, 12),
      over: own,
      window: '0 10:00 | 2 11:00',
      done: true,
    },
    {
      name: 'she hangs, and they are calm',
      log: [...caged, [at(2), facts.atCage()]],
      now: at(2, 12),
      over: own,
      window: '0 10:00 | 2 10:00',
    },
  ]);
});

describe('the mesh', () => {
  places('open-candy', [
    {
      name: 'is not lifted before the cut that is made again',
      log: balledUnderMesh,
      now: at(5, 12),
      over: mesh,
      window: '9 00:00 | 9 10:00',
    },
    {
      name: 'is lifted in the visit of the cut',
      log: [...caged, cut(5)],
      now: at(5, 11),
      over: mesh,
      window: '5 00:00 | 5 10:00',
    },
  ]);
});

describe('the figures that the days of the cut rest on', () => {
  it.each([
    {
      name: 'a bought queen',
      over: {},
      figures: { earliest: firstCutDay, best: firstCutDay, latest: firstVirginDays },
    },
    { name: 'one’s own', over: own, figures: { latest: firstVirginDays } },
    {
      name: 'one’s own, under mesh',
      over: mesh,
      figures: { earliest: pushInCageDays, best: pushInCageDays },
    },
  ])('$name', ({ over, figures }) => {
    const { situation } = answerFor(stateAt([split], at(1), over));
    expect(rowOf('cut-cells').figures?.(situation)).toEqual(figures);
  });
});
