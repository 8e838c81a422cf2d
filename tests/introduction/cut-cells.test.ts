/** May cells be cut or looked for? Days count from the last egg; once she is out the nuc stays shut (common practice). */
import { describe } from 'vitest';
import type { IntroductionSetup } from '../../server/introduction/log/setup.ts';
import { split, type Entries } from './support/conditions.ts';
import { at, cells, facts } from './support/field-log.ts';
import { may } from './support/permissions.ts';

const hung = [at(7, 10.5), facts.hung()] as const;
const cut7 = [at(7), facts.cut({ sealed: 8 })] as const;
const course: Entries = [split, cut7, hung, [at(10), facts.cut()]];
const out: Entries = [...course, [at(10, 11), facts.opened()]];
/** She was out before the second look. */
const early: Entries = [split, cut7, hung, [at(8, 11), facts.opened()]];
const looked = (day: number, over: Parameters<typeof facts.looked>[0] = {}): Entries[number] => [
  at(day),
  facts.looked({ eggsSeen: false, ...over }),
];
const own: Partial<IntroductionSetup> = { startingPoint: 'own-laying-queen' };
const found: Partial<IntroductionSetup> = { startingPoint: 'hopelessly-queenless', openedAtMs: at(0) };
const afterCell = 'A living cell was seen after she was let out';
const withHer = 'The nuc is open to look for her';

describe('before she is out', () => {
  may('cut-cells', [
    {
      name: 'on day 5: not the cut that counts',
      log: [split],
      now: at(5),
      answer: 'wait',
      untilMs: at(7, 0),
      says: 'No virgin can have emerged yet.',
    },
    {
      name: 'on day 5, sealed brood alone on every frame',
      log: [split, [at(5), facts.inspection({ youngestBrood: 'sealed-only' })]],
      now: at(5, 11),
      answer: 'wait',
      untilMs: at(7, 0),
      says: 'No larva was seen, and young ones are easily missed.',
      notSays: 'Larvae are left',
    },
    {
      name: 'on day 5, and the split got no open brood',
      log: [[at(0), facts.split({ framesOfOpenBrood: 0 })]],
      now: at(5),
      answer: 'wait',
      untilMs: at(7, 0),
      says: 'No larva was seen',
      notSays: 'Larvae are left',
    },
    {
      name: 'on day 5, sealed brood alone, and a frame was brought in since',
      log: [
        split,
        [at(5), facts.inspection({ youngestBrood: 'sealed-only' })],
        [at(5, 10.5), facts.broodAdded()],
      ],
      now: at(5, 11),
      answer: 'wait',
      untilMs: at(12, 0),
      says: 'Larvae are left',
    },
    { name: 'on day 7', log: [split], now: at(7), answer: 'go', says: 'No virgin can have emerged yet.' },
    {
      name: 'on day 9',
      log: [split],
      now: at(9),
      answer: 'go',
      says: 'A virgin may have emerged',
      notSays: 'No virgin can have emerged yet.',
    },
    {
      name: 'on day 7 where cells were left at the split',
      log: [[at(0), facts.split({ cellsAlreadyThere: 'present-and-left' })]],
      now: at(7),
      answer: 'go',
      says: 'A virgin may be in the box: queen cells stood',
    },
    {
      name: 'a cell was seen the day after the cut and left: it is cut',
      log: [...course, [at(11), facts.inspection({ cells: cells({ sealed: 1 }) })]],
      now: at(11, 11),
      answer: 'go',
      says: 'Cells were cut; another look finds what was missed.',
    },
    {
      name: 'cut on day 7, and looked through again on day 10: a cell that was missed may be open',
      log: [split, cut7],
      now: at(10),
      answer: 'go',
      says: 'The virgin of a missed cell may be out',
      notSays: 'No virgin can have emerged yet.',
    },
    {
      name: 'cut on day 7: so soon a second look finds little',
      log: [split, cut7],
      now: at(8),
      answer: 'wait',
      untilMs: at(9, 0),
    },
    {
      name: 'looked through twice, on the same day',
      log: course,
      now: at(10, 12),
      answer: 'wait',
      untilMs: at(11, 0),
      says: 'No virgin can have emerged yet.',
    },
    {
      name: 'cut on day 7 but for a frame: the look counts from that cut',
      log: [split, [at(7), facts.cut({ sealed: 8 }, { everyFrameChecked: false })], [at(8), facts.cut()]],
      now: at(8, 12),
      answer: 'wait',
      untilMs: at(9, 0),
    },
    {
      name: 'found hopeless: what stands may be cut on any day',
      log: [[at(0), facts.inspection({ youngestBrood: 'sealed-only', everyFrameChecked: false })]],
      now: at(2),
      over: found,
      answer: 'go',
      says: 'no larva is left for another',
    },
    {
      name: 'a queen of one’s own: cut on the day on which she is let out',
      log: [split, [at(1), facts.hung()]],
      now: at(3),
      over: own,
      answer: 'go',
      says: 'every cell cut on the day on which she is let out',
    },
    {
      name: 'a queen of one’s own under mesh: on the day on which it is lifted',
      log: [split, [at(1), facts.hung()]],
      now: at(2),
      over: { ...own, method: 'push-in-cage' },
      answer: 'wait',
      untilMs: at(4, 0),
    },
    {
      name: 'a queen of one’s own under mesh, and that day has come',
      log: [split, [at(1), facts.hung()]],
      now: at(5, 9),
      over: { ...own, method: 'push-in-cage' },
      answer: 'go',
    },
    {
      name: 'a queen of one’s own under mesh, and a cell is seen',
      log: [split, [at(1), facts.hung()], [at(2), facts.inspection({ cells: cells({ open: 1 }) })]],
      now: at(2, 11),
      over: { ...own, method: 'push-in-cage' },
      answer: 'go',
    },
    {
      name: 'the last egg has no date, and the split is not a week old',
      log: [[at(0), facts.split({ oldQueen: 'not-seen', framesOfOpenBrood: 0 })]],
      now: at(5),
      answer: 'wait',
      untilMs: at(7, 0),
      says: 'the split is not a week old',
    },
    {
      name: 'the last egg has no date, and young brood was seen since',
      log: [
        [at(0), facts.split({ oldQueen: 'not-seen' })],
        [at(6), facts.inspection({ youngestBrood: 'eggs', everyFrameChecked: false })],
      ],
      now: at(7),
      answer: 'wait',
      untilMs: at(9, 0),
      says: 'brood was seen or brought in',
    },
  ]);
});

describe('foragers', () => {
  const leaving = { foragersGone: { answer: 'no', text: 'Foragers are still leaving.' } } as const;
  const near: Entries = [split, [at(0, 12), { kind: 'moved', metres: 2 }]];
  may('cut-cells', [
    {
      name: 'still leaving: a day later',
      log: near,
      now: at(7),
      evidence: leaving,
      answer: 'wait',
      untilMs: at(8, 0),
      notSays: 'Flying days',
    },
    {
      name: 'with the days on which they could fly',
      log: near,
      now: at(7),
      evidence: { ...leaving, flyingDays: 2 },
      answer: 'wait',
      untilMs: at(8, 0),
      says: 'Flying days since the move: 2.',
    },
    {
      name: 'moved out of their range, none leaves',
      log: [split, [at(0, 12), { kind: 'moved', metres: 8000 }]],
      now: at(7),
      evidence: leaving,
      answer: 'go',
      notSays: 'Foragers are still leaving.',
    },
    {
      name: 'of a colony that was not split none leaves',
      log: [[at(0), { kind: 'queen-removed', which: 'old-queen', cellsAlreadyThere: 'none' }]],
      now: at(7),
      over: { startingPoint: 'requeened-in-place' },
      evidence: leaving,
      answer: 'go',
      notSays: 'Foragers are still leaving.',
    },
  ]);
});

describe('once she is out', () => {
  may('cut-cells', [
    { name: 'the nuc stays shut', log: out, now: at(12), answer: 'wait', untilMs: at(17, 0) },
    {
      name: 'after that cells show when she is looked for',
      log: out,
      now: at(17, 9),
      answer: 'wait',
      first: 'look-for-queen',
    },
    {
      name: 'once she lays they show at the check of her brood',
      log: [...out, looked(17, { eggsSeen: true })],
      now: at(18),
      answer: 'wait',
      first: 'check-sealed-brood',
    },
    {
      name: 'her eggs were seen within the week: she is not said to be in danger any more',
      log: [...out, looked(16, { eggsSeen: true })],
      now: at(16, 12),
      answer: 'wait',
      first: 'check-sealed-brood',
      notSays: 'killed',
    },
    {
      name: 'a living cell was seen with her: it is cut',
      log: [...out, looked(17, { cells: cells({ sealed: 1 }) })],
      now: at(17, 11),
      answer: 'go',
      says: afterCell,
    },
    {
      name: 'a living cell was seen before',
      log: [
        ...course,
        [at(10, 10.5), facts.inspection({ cells: cells({ sealed: 1 }) })],
        [at(10, 11), facts.opened()],
      ],
      now: at(12),
      answer: 'wait',
      untilMs: at(17, 0),
      notSays: afterCell,
    },
    {
      name: 'let out before the second look, and looked for today: the frames are gone through too',
      log: [...early, looked(14)],
      now: at(14, 11),
      answer: 'go',
      says: withHer,
    },
    {
      name: 'and the frames were gone through',
      log: [...early, looked(14), [at(14, 11), facts.cut()]],
      now: at(14, 12),
      answer: 'wait',
      untilMs: at(15, 0),
      notSays: withHer,
    },
    {
      name: 'looked for yesterday',
      log: [...early, looked(14)],
      now: at(15),
      answer: 'wait',
      first: 'look-for-queen',
      notSays: withHer,
    },
    {
      name: 'nobody looks for her today',
      log: early,
      now: at(14),
      answer: 'wait',
      untilMs: at(15, 0),
      notSays: withHer,
    },
    {
      name: 'looked for today, once every virgin would be out',
      log: [...early, looked(19)],
      now: at(19, 11),
      answer: 'wait',
      first: 'look-for-queen',
      notSays: withHer,
    },
    {
      name: 'let out after two looks, and looked for today',
      log: [...out, looked(17)],
      now: at(17, 11),
      answer: 'wait',
      first: 'look-for-queen',
      notSays: withHer,
    },
    {
      name: 'let out after two looks, and looked for within her days of hands off: the other frames stay in',
      log: [...out, looked(14)],
      now: at(14, 11),
      answer: 'wait',
      untilMs: at(17, 0),
      notSays: withHer,
    },
    {
      name: 'a look for a queen that nobody let out opens nothing',
      log: [split, cut7, hung, looked(8, { cageEmpty: false, queenSeen: false })],
      now: at(8, 12),
      answer: 'wait',
      untilMs: at(9, 0),
      notSays: withHer,
    },
    {
      name: 'she flew off: no hands off for nobody',
      log: [...out, [at(11), { kind: 'queen-escaped', to: 'outside' }]],
      now: at(12),
      answer: 'go',
      notSays: 'She was let out',
    },
  ]);
});

describe('another queen comes while one that was let out may be there', () => {
  const next = [at(12, 9), facts.arrived({ queenId: 'queen-two' })] as const;
  const herDays = 'The queen that was let out before needs her days outside';
  may('cut-cells', [
    { name: 'the nuc stays shut', log: [...out, next], now: at(12), answer: 'stop', untilMs: at(16, 11) },
    {
      name: 'it stays shut while the next one hangs',
      log: [...out, next, [at(12, 9.5), facts.hung({ queenId: 'queen-two' })]],
      now: at(13),
      answer: 'stop',
      untilMs: at(16, 11),
      says: herDays,
    },
    { name: 'her days are over', log: [...out, next], now: at(16, 12), answer: 'go', notSays: herDays },
    {
      name: 'a living cell was seen since',
      log: [...out, next, [at(12, 9.5), facts.inspection({ cells: cells({ sealed: 1 }) })]],
      now: at(12),
      answer: 'go',
      notSays: herDays,
    },
    {
      name: 'a living cell was seen before',
      log: [
        ...course,
        [at(10, 10.5), facts.inspection({ cells: cells({ sealed: 1 }) })],
        ...out.slice(-1),
        next,
      ],
      now: at(12),
      answer: 'stop',
      untilMs: at(16, 11),
    },
    {
      name: 'she flew off: no days for nobody',
      log: [...out, [at(11), { kind: 'queen-escaped', to: 'outside' }], next],
      now: at(12),
      answer: 'go',
      notSays: herDays,
    },
  ]);
  may('one-more-look', [
    { name: 'no look in passing', log: [...out, next], now: at(12), answer: 'stop', untilMs: at(16, 11) },
  ]);
  const slipped: Entries = [
    split,
    [at(3), facts.hung()],
    [at(3, 11), { kind: 'queen-escaped', to: 'into-the-nuc' }],
  ];
  const soon = [at(4), facts.arrived({ queenId: 'queen-two' })] as const;
  may('early-cut', [
    {
      name: 'of cells that were seen since',
      log: [...slipped, soon, [at(4, 11), facts.inspection({ cells: cells({ open: 1 }) })]],
      now: at(5),
      answer: 'go',
    },
    {
      name: 'none on her first days',
      log: [...slipped, soon],
      now: at(5),
      answer: 'stop',
      untilMs: at(9, 11),
    },
  ]);
  may('look-through', [
    {
      name: 'no look on every frame',
      log: [...slipped, soon],
      now: at(5),
      answer: 'stop',
      untilMs: at(9, 11),
    },
  ]);
});
