/** May she be let out? What stands against it, and the act that comes first. */
import { describe, expect, it } from 'vitest';
import { answerFor } from '../../server/introduction/acts/answer.ts';
import { noEvidence } from '../../server/introduction/acts/gate.ts';
import type { IntroductionSetup } from '../../server/introduction/log/setup.ts';
import { frame, split, type Entries } from './support/conditions.ts';
import { at, facts, stateAt } from './support/field-log.ts';
import { may } from './support/permissions.ts';

const hung = [at(7, 10.5), facts.hung()] as const;
const cut7 = [at(7), facts.cut({ sealed: 8 })] as const;
const course: Entries = [split, cut7, hung, [at(10), facts.cut()]];
const none: Entries = [split, [at(7), facts.cut()], hung, [at(10), facts.cut()]];
const calm = [at(10, 10.5), facts.atCage()] as const;

describe('let her out', () => {
  may('open-candy', [
    {
      name: 'a virgin is seen',
      log: [...course, [at(10, 11), facts.inspection({ virginSeen: true })]],
      now: at(10, 12),
      answer: 'stop',
      first: 'take-queen-out',
    },
    {
      name: 'a virgin may be out, and cells may stand: they are cut first',
      log: [split, hung],
      now: at(9),
      answer: 'stop',
      first: 'cut-cells',
      has: ['cut-cells', 'A virgin may be loose'],
      says: 'a cut of every cell, then a test frame',
    },
    {
      name: 'a shell was found: a test frame tells',
      log: [split, [at(7), facts.cut({ sealed: 7, emerged: 1 })], hung, [at(10), facts.cut()]],
      now: at(10, 12),
      answer: 'stop',
      first: 'test-frame-in',
      says: 'an emerged queen cell was found',
      notSays: 'too long ago',
    },
    {
      name: 'a shell was found: once the frame is in it comes out first',
      log: [
        split,
        [at(7), facts.cut({ sealed: 7, emerged: 1 })],
        hung,
        [at(10), facts.cut()],
        [at(10, 11), facts.broodAdded({ asTestFrame: true })],
      ],
      now: at(11),
      answer: 'stop',
      first: 'test-frame-out',
    },
    {
      name: 'the frame is in',
      log: [...course, [at(10, 11), facts.broodAdded({ asTestFrame: true })], calm],
      now: at(11),
      answer: 'wait',
      first: 'test-frame-out',
    },
    {
      name: 'no cell on the frame: who held the bees back is looked for',
      log: [...course, ...frame(10, 12, 0)],
      now: at(12, 12),
      answer: 'stop',
      first: 'take-queen-out',
      has: ['take-queen-out', 'No queen cell was started on the test frame'],
    },
    {
      name: 'no cell on two frames',
      log: [...course, ...frame(10, 12, 0), ...frame(18, 20, 0)],
      now: at(20, 12),
      answer: 'stop',
      first: 'unite',
    },
    {
      name: 'cells on the frame',
      log: [...course, ...frame(10, 12, 4), [at(12, 11), facts.cut()], [at(12, 11), facts.atCage()]],
      now: at(12, 12),
      answer: 'go',
      says: 'Queen cells were started on the test frame',
    },
    {
      name: 'the frame was in for half a day only',
      log: [
        ...course,
        [at(10, 11), facts.broodAdded({ asTestFrame: true })],
        [at(10, 20), facts.broodTaken({ cellsOnIt: 0 })],
      ],
      now: at(10, 21),
      answer: 'go',
      says: 'gave no answer',
    },
    {
      name: 'no cell on the frame, and a virgin was taken on its last day',
      log: [
        ...course,
        [at(10, 11), facts.broodAdded({ asTestFrame: true })],
        [at(12), { kind: 'queen-removed', which: 'virgin' }],
        [at(12, 11), facts.broodTaken({ cellsOnIt: 0 })],
        [at(12, 11), facts.cut()],
      ],
      now: at(12, 12),
      answer: 'wait',
      first: 'one-more-look',
      untilMs: at(13, 0),
      says: 'the queen that held the bees back was taken away',
    },
  ]);

  describe('where no cell was ever seen', () => {
    const looked = (over: Parameters<typeof facts.cut>[1]): Entries => [
      split,
      [at(7), facts.cut()],
      hung,
      [at(10), facts.cut({}, over)],
    ];
    it.each<{ name: string; log: Entries; asks: boolean; over?: Partial<IntroductionSetup> }>([
      { name: 'nobody looked for eggs', log: none, asks: true },
      { name: 'no egg on day 10', log: looked({ youngestBrood: 'sealed-only' }), asks: false },
      {
        name: 'under the mesh her eggs, none elsewhere',
        log: looked({ youngestBrood: 'eggs', eggsOutsideMesh: false }),
        asks: false,
        over: { method: 'push-in-cage' },
      },
      {
        name: 'a torn-down cell',
        log: [split, [at(7), facts.cut({ tornDown: 1 })], hung, [at(10), facts.cut()]],
        asks: false,
      },
      {
        name: 'an open one',
        log: [split, [at(7), facts.cut({ open: 1 })], hung, [at(10), facts.cut()]],
        asks: false,
      },
      {
        name: 'one on the second look',
        log: [split, [at(7), facts.cut()], hung, [at(10), facts.cut({ sealed: 1 })]],
        asks: false,
      },
      {
        name: 'a shell',
        log: [split, [at(7), facts.cut({ emerged: 1 })], hung, [at(10), facts.cut()]],
        asks: false,
      },
      { name: 'only on the test frame', log: [...none, ...frame(10, 12, 3)], asks: false },
      { name: 'none on the test frame either', log: [...none, ...frame(10, 12, 0)], asks: true },
    ])('$name', ({ log, asks, over = {} }) => {
      const nowMs = Math.max(...log.map(([ms]) => ms)) + 3_600_000;
      const { reasons, first } = answerFor(stateAt(log, nowMs, over), noEvidence).permissionOf('open-candy');
      const asked = reasons.some(({ text }) => text.includes('nobody looked for eggs'));
      expect(asked).toBe(asks);
      if (asks) expect(first.some(({ kind }) => kind === 'look-through')).toBe(true);
    });
    it('says so, and that a frame would settle it, once nobody found an egg', () => {
      const { reasons } = answerFor(
        stateAt(looked({ youngestBrood: 'sealed-only' }), at(10, 12)),
        noEvidence,
      ).permissionOf('open-candy');
      expect(reasons.some(({ text }) => text.includes('no eggs either'))).toBe(true);
    });
  });
});

it('a virgin whose chance is within the limit is not feared, unless larvae are left for another', () => {
  const feared = (log: Entries, chanceLimit: number) =>
    answerFor(stateAt(log, at(14, 12)), { ...noEvidence, chanceLimit })
      .permissionOf('open-candy')
      .reasons.some(({ text }) => text.includes('A virgin may be loose'));
  const late: Entries = [split, [at(5), facts.cut({ sealed: 6 })], [at(14), facts.cut({ sealed: 5 })]];
  expect([feared(late, 0.05), feared(late, 0.9)]).toEqual([true, false]);
  const larvae: Entries = [split, [at(5), facts.cut({ sealed: 6 })]];
  expect(feared(larvae, 0.9)).toBe(true);
});

it.each<{ name: string; log: Entries; days: readonly number[] }>([
  { name: 'a split and looks that saw the same', log: course, days: [5, 7, 10] },
  {
    name: 'a nuc that was found, looked through three times',
    log: [0, 4, 7].map((day): Entries[number] => [
      at(day),
      facts.inspection({ youngestBrood: day === 0 ? 'old-larvae' : 'sealed-only' }),
    ]),
    days: [0, 4, 8],
  },
  {
    name: 'eggs of the queen that was brought',
    log: [
      ...course,
      calm,
      [at(10, 11), facts.opened()],
      [at(17), facts.looked()],
      [at(20), { kind: 'queen-dead' }],
    ],
    days: [21, 30],
  },
])('what the last egg rests on stands in sentences of at most 25 words: $name', ({ log, days }) => {
  for (const day of days) {
    const state = stateAt(log, at(day, 12), log === course ? {} : { startingPoint: 'queenless-with-cells' });
    const { reasons } = answerFor(state, noEvidence).permissionOf('open-candy');
    const about = reasons
      .map(({ text }) => String(text))
      .filter((text) => /young enough for a queen/.test(text));
    const words = about.flatMap((text) => text.split(/(?<=[.?!]) /)).map((one) => one.split(' ').length);
    expect(about).not.toEqual([]);
    expect(Math.max(...words)).toBeLessThanOrEqual(25);
  }
});
