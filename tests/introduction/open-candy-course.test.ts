/** May she be let out? Where she has to be for it, and what the cuts and looks have to show. */
import { describe } from 'vitest';
import type { IntroductionSetup } from '../../server/introduction/log/setup.ts';
import { split, type Entries } from './support/conditions.ts';
import { at, facts } from './support/field-log.ts';
import { may } from './support/permissions.ts';

const hung = [at(7, 10.5), facts.hung()] as const;
const cut7 = [at(7), facts.cut({ sealed: 8 })] as const;
const course: Entries = [split, cut7, hung, [at(10), facts.cut()]];
const calm = [at(10, 10.5), facts.atCage()] as const;

const own: Partial<IntroductionSetup> = { startingPoint: 'own-laying-queen' };
const found: Partial<IntroductionSetup> = { startingPoint: 'hopelessly-queenless' };
const mesh: Partial<IntroductionSetup> = { method: 'push-in-cage' };

describe('let her out: where she is', () => {
  may('open-candy', [
    {
      name: 'she died in the cage',
      log: [...course, [at(10, 11), { kind: 'queen-dead' }]],
      now: at(10, 12),
      answer: 'stop',
      first: 'queen-arrives',
    },
    {
      name: 'she flew off',
      log: [...course, [at(10, 11), { kind: 'queen-escaped', to: 'outside' }]],
      now: at(10, 12),
      answer: 'stop',
      first: 'queen-arrives',
    },
    {
      name: 'she slipped into the nuc',
      log: [...course, [at(10, 11), { kind: 'queen-escaped', to: 'into-the-nuc' }]],
      now: at(10, 12),
      answer: 'stop',
      first: 'look-for-queen',
      says: 'without being let out',
    },
    {
      name: 'one walks that nobody let out',
      log: [split, cut7, [at(10), facts.cut()], [at(10, 11), facts.looked({ eggsSeen: false })]],
      now: at(10, 12),
      answer: 'stop',
      first: 'take-queen-out',
    },
    {
      name: 'she was let out and seen',
      log: [...course, [at(10, 11), facts.opened()], [at(17), facts.looked()]],
      now: at(17, 12),
      answer: 'stop',
      first: 'look-for-queen',
    },
    {
      name: 'the candy is open',
      log: [...course, calm, [at(10, 11), facts.opened()]],
      now: at(10, 12),
      answer: 'stop',
      first: 'look-for-queen',
      says: 'The candy end was opened before.',
    },
    {
      name: 'the mesh is lifted',
      log: [...course, calm, [at(11), { kind: 'cage-taken-out' }]],
      now: at(11, 12),
      over: mesh,
      answer: 'stop',
      first: 'look-for-queen',
      says: 'The mesh was lifted before.',
    },
    {
      name: 'it was opened, and she sits in it still: not as if she were out',
      log: [
        ...course,
        calm,
        [at(10, 11), facts.opened()],
        [at(17), facts.looked({ cageEmpty: false, eggsSeen: false })],
      ],
      now: at(17, 12),
      answer: 'go',
      notSays: 'opened before',
    },
    {
      name: 'two cages hang',
      log: [...course, [at(10, 11), facts.hung({ queenId: 'queen-two' })]],
      now: at(12),
      answer: 'stop',
      first: 'take-cage-out',
    },
    {
      name: 'none hangs',
      log: [split, cut7, [at(10), facts.cut()]],
      now: at(10, 12),
      answer: 'wait',
      first: 'hang-cage',
    },
    {
      name: 'she has hung for some hours',
      log: [split, cut7, [at(10), facts.cut()], [at(10, 11), facts.hung()]],
      now: at(10, 18),
      answer: 'wait',
      untilMs: at(11, 11),
    },
    {
      name: 'she has been under the mesh for two days',
      log: [split, cut7, [at(8), facts.hung()], [at(10), facts.cut()]],
      now: at(10, 12),
      over: mesh,
      answer: 'wait',
      untilMs: at(11, 0),
    },
  ]);
});

describe('let her out: the cells', () => {
  may('open-candy', [
    {
      name: 'two clean looks',
      log: [...course, calm],
      now: at(10, 12),
      answer: 'go',
      says: 'Chance that a dangerous cell was missed',
    },
    {
      name: 'two clean looks, and biting bees: no figure helps',
      log: [...course, [at(10, 10.5), facts.atCage({ behaviour: 'biting' })]],
      now: at(10, 12),
      answer: 'stop',
      first: 'watch-cage',
      notSays: 'Chance that a dangerous cell was missed',
    },
    {
      name: 'nothing was cut by day 5',
      log: [split, [at(3), facts.hung()]],
      now: at(5),
      answer: 'wait',
      first: 'cut-cells',
      untilMs: at(10, 0),
    },
    {
      name: 'nothing was cut by day 8',
      log: [split, [at(3), facts.hung()]],
      now: at(8),
      answer: 'wait',
      first: 'cut-cells',
    },
    {
      name: 'cut on day 7: the second look is on day 10',
      log: [split, cut7, hung],
      now: at(8, 12),
      answer: 'wait',
      first: 'second-look',
      untilMs: at(10, 0),
    },
    {
      name: 'cut on day 7, and day 10 is here',
      log: [split, cut7, hung],
      now: at(10),
      answer: 'wait',
      first: 'second-look',
    },
    {
      name: 'cut on day 7 but for a frame, looked through on day 10: said',
      log: [
        split,
        [at(7), facts.cut({ sealed: 8 }, { everyFrameChecked: false })],
        hung,
        [at(10), facts.cut()],
      ],
      now: at(10, 12),
      answer: 'wait',
      first: 'one-more-look',
      untilMs: at(11, 0),
      says: 'not on every frame',
    },
    {
      name: 'cut on day 7 but for a frame, which came the day after',
      log: [
        split,
        [at(7), facts.cut({ sealed: 8 }, { everyFrameChecked: false })],
        hung,
        [at(8), facts.cut()],
        [at(10), facts.cut()],
        calm,
      ],
      now: at(10, 12),
      answer: 'go',
      says: 'Cells were cut on every frame, late enough.',
      notSays: 'not on every frame',
    },
    {
      name: 'the last egg has no date',
      log: [[at(0), facts.split({ oldQueen: 'not-seen' })], cut7, hung],
      now: at(8),
      answer: 'wait',
      first: 'look-through',
      has: ['look-through', 'Look on every frame for the youngest brood'],
    },
    {
      name: 'foragers that still leave are said, and bar nothing',
      log: [...course, calm],
      now: at(10, 12),
      evidence: { foragersGone: { answer: 'no', text: 'Foragers are still leaving.' } },
      answer: 'go',
      says: 'Foragers are still leaving.',
    },
    {
      name: 'foragers of which nobody knows are not',
      log: [...course, calm],
      now: at(10, 12),
      evidence: { foragersGone: { answer: 'cannot-tell', text: 'No scale tells.' } },
      answer: 'go',
      notSays: 'No scale tells.',
    },
    {
      name: 'nor those of a nuc that stands out of their range',
      log: [...course, [at(7, 12), { kind: 'moved', metres: 8000 }], calm],
      now: at(10, 12),
      evidence: { foragersGone: { answer: 'no', text: 'Foragers are still leaving.' } },
      answer: 'go',
      notSays: 'Foragers are still leaving.',
    },
    {
      name: 'a queen of one’s own, and no cut today',
      log: [split, [at(6), facts.hung()], [at(7, 8), facts.atCage()]],
      now: at(7, 9),
      over: own,
      answer: 'wait',
      first: 'cut-cells',
      notSays: 'Chance that',
    },
    {
      name: 'a queen of one’s own, cut today',
      log: [split, [at(6), facts.hung()], [at(7, 8), facts.cut({ sealed: 8 })], [at(7, 8), facts.atCage()]],
      now: at(7, 9),
      over: own,
      answer: 'go',
      says: 'Every frame was looked through today',
      notSays: 'Chance that',
    },
    {
      name: 'found hopeless, nobody looked through it',
      log: [
        [at(0), facts.hung()],
        [at(2), facts.atCage()],
      ],
      now: at(2, 12),
      over: { ...found, openedAtMs: at(0) },
      answer: 'stop',
      first: 'look-through',
      has: ['look-through', 'No complete look'],
    },
    {
      name: 'found hopeless, looked through',
      log: [
        [at(0), facts.inspection({ youngestBrood: 'sealed-only' })],
        [at(0, 11), facts.hung()],
        [at(2), facts.atCage()],
      ],
      now: at(2, 12),
      over: { ...found, openedAtMs: at(0) },
      answer: 'stop',
      first: 'test-frame-in',
      says: 'No larva is left that is young enough for a queen',
      notSays: 'No complete look',
    },
  ]);
});
