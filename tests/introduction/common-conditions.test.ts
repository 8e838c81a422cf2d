/** Conditions that several acts share: what is in the way, and the act or the day that settles it. */
import { describe, expect, it } from 'vitest';
import {
  begun,
  earlierQueenOut,
  eggsTellFromMs,
  leftTogether,
  nextSearch,
  notClosed,
  queenlessness,
} from '../../server/introduction/acts/common-conditions.ts';
import { noEvidence } from '../../server/introduction/acts/gate.ts';
import { frame, hung, says, split, table, type Entries, type Setup } from './support/conditions.ts';
import { at, facts, stateAt } from './support/field-log.ts';

const notSeen = [at(0), facts.split({ oldQueen: 'not-seen' })] as const;
const found: Setup = { startingPoint: 'hopelessly-queenless' };

table('closed', (state) => notClosed(state), [
  { name: 'not yet', log: [split], now: at(1), says: null },
  {
    name: 'a new introduction is to be opened',
    log: [split, [at(9), { kind: 'outcome', outcome: 'given-up' }]],
    now: at(10),
    says: ['stop', { newIntroduction: true }],
    text: '“given up”',
  },
]);

table('begun', (state) => begun(state, state.nowMs), [
  { name: 'no split is logged', log: [], now: at(0), says: ['wait', { first: 'split' }] },
  { name: 'split', log: [split], now: at(0), says: null },
  {
    name: 'the old queen is still in it',
    log: [],
    now: at(0),
    over: { startingPoint: 'requeened-in-place' },
    says: ['wait', { first: 'find-old-queen' }],
  },
  {
    name: 'found queenless, there is nothing to begin',
    log: [],
    now: at(0),
    over: { ...found, openedAtMs: at(0) },
    says: null,
  },
]);

it('the split that is asked for later than now has not begun', () => {
  const state = stateAt([split], at(1));
  expect(says(begun(state, at(0) - 60_000))).toEqual(['wait', { first: 'split' }]);
});

const eggsTell = at(4, 0);
table('queenless', (state) => queenlessness(state, state.nowMs), [
  { name: 'shown', log: [split], now: at(5), says: 'met' },
  {
    name: 'the old queen was not seen: a look for eggs from day 4 on',
    log: [notSeen],
    now: at(1),
    says: ['wait', { first: 'look-through', fromMs: eggsTell }],
    text: 'from day 4 on',
  },
  {
    name: 'looked through on day 2, too soon to tell',
    log: [notSeen, [at(2), facts.inspection({ youngestBrood: 'eggs' })]],
    now: at(5),
    says: ['wait', { first: 'look-through', fromMs: eggsTell }],
  },
  {
    name: 'looked through on day 5, and not for brood',
    log: [notSeen, [at(5), facts.inspection()]],
    now: at(6),
    says: ['wait', { first: 'look-through', fromMs: eggsTell }],
  },
  {
    name: 'looked for brood on day 5, on some frames',
    log: [notSeen, [at(5), facts.inspection({ youngestBrood: 'sealed-only', everyFrameChecked: false })]],
    now: at(6),
    says: ['wait', { first: 'look-through', fromMs: eggsTell }],
  },
  {
    name: 'several eggs in a cell on every frame: a look told nothing, a frame does',
    log: [notSeen, [at(5), facts.inspection({ youngestBrood: 'eggs', severalEggsACell: true })]],
    now: at(6),
    says: ['wait', { first: 'test-frame-in' }],
    text: 'A test frame tells.',
  },
  {
    name: 'its sealed brood is out: eggs would tell no more of the old queen',
    log: [notSeen, [at(5), facts.inspection({ youngestBrood: 'sealed-only', beesShakenOff: false })]],
    now: at(40),
    says: ['wait', { first: 'test-frame-in' }],
  },
  {
    name: 'the frame is in',
    log: [
      notSeen,
      [at(5), facts.inspection({ youngestBrood: 'eggs', severalEggsACell: true })],
      [at(6), facts.broodAdded({ asTestFrame: true })],
    ],
    now: at(7),
    says: ['wait', { first: 'test-frame-out' }],
  },
  {
    name: 'no cell on the frame: she is looked for',
    log: [
      notSeen,
      [at(5), facts.inspection({ youngestBrood: 'eggs', severalEggsACell: true })],
      ...frame(6, 8, 0),
    ],
    now: at(9),
    says: ['wait', { first: 'take-queen-out' }],
  },
  {
    name: 'no cell on two frames: no other tells more',
    log: [
      notSeen,
      [at(5), facts.inspection({ youngestBrood: 'eggs', severalEggsACell: true })],
      ...frame(6, 8, 0),
      ...frame(13, 15, 0),
    ],
    now: at(16),
    says: ['wait', { first: 'unite' }],
  },
  {
    name: 'eggs laid since: she is to be found',
    log: [notSeen, [at(7), facts.inspection({ youngestBrood: 'eggs' })]],
    now: at(8),
    says: ['stop', { first: 'take-queen-out' }],
  },
  {
    name: 'eggs too young, the old queen seen in the parent: a frame tells',
    log: [split, [at(7), facts.inspection({ youngestBrood: 'eggs' })]],
    now: at(8),
    says: ['stop', { first: 'test-frame-in' }],
  },
  {
    name: 'eggs too young, and one that nobody let out was seen',
    log: [split, [at(7), facts.inspection({ youngestBrood: 'eggs' })], [at(8), facts.looked()]],
    now: at(9),
    says: ['stop', { first: 'take-queen-out' }],
  },
]);

it('eggs tell from four days after a split, else at once', () => {
  expect(eggsTellFromMs(stateAt([notSeen], at(1)))).toBe(eggsTell);
  expect(eggsTellFromMs(stateAt([], at(1), { ...found, openedAtMs: at(-3) }))).toBe(at(-3));
  expect(eggsTellFromMs(stateAt([], at(1)))).toBe(at(1));
});

const out: Entries = [split, hung, [at(10), facts.opened()]];
const second: Entries = [...out, [at(12), facts.arrived({ queenId: 'queen-two' })]];
const missed = (day: number): Entries[number] => [
  at(day),
  facts.looked({ queenSeen: false, eggsSeen: false }),
];
table('an earlier queen out', (state) => earlierQueenOut(state), [
  { name: 'none', log: out, now: at(12), says: null },
  {
    name: 'looked for once her days of hands off are over: the days of the candy, and three',
    log: second,
    now: at(12),
    says: ['stop', { first: 'look-again', fromMs: at(16) }],
  },
  {
    name: 'looked for now',
    log: second,
    now: at(20),
    says: ['stop', { first: 'look-again', fromMs: at(20) }],
  },
  {
    name: 'not found once',
    log: [...second, missed(17)],
    now: at(18),
    says: ['stop', { first: 'look-again' }],
  },
  {
    name: 'not found twice: a test frame',
    log: [...second, missed(17), missed(21)],
    now: at(22),
    says: ['stop', { first: 'test-frame-in' }],
  },
  {
    name: 'not found twice, the frame is in',
    log: [...second, missed(17), missed(21), [at(22), facts.broodAdded({ asTestFrame: true })]],
    now: at(23),
    says: ['stop', { first: 'test-frame-out' }],
  },
]);

it('a search goes on with a look, and after two with a frame', () => {
  expect(nextSearch(stateAt([...out, missed(17)], at(18)))).toBe('look-again');
  expect(nextSearch(stateAt([...out, missed(17), missed(21)], at(22)))).toBe('test-frame-in');
});

describe('where the scale says that bees left in a mass', () => {
  const lookFirst = { sinceMs: at(8), headline: 'Bees left', text: 'Look first.' };
  const told = (log: Entries) => says(leftTogether(stateAt(log, at(9)), { ...noEvidence, lookFirst }));
  it('somebody looks: through the frames, or at the cage that hangs', () => {
    expect(told([split])).toEqual(['wait', { first: 'look-through' }]);
    expect(told([split, hung])).toEqual(['wait', { first: 'watch-cage' }]);
  });
  it('what was seen before does not count, nor what is no look', () => {
    expect(told([split, [at(7, 12), facts.inspection()]])).toEqual(['wait', { first: 'look-through' }]);
    expect(told([split, [at(8, 12), { kind: 'note' }]])).toEqual(['wait', { first: 'look-through' }]);
  });
  it('a look since, in that minute too, settles it', () => {
    expect(told([split, [at(8), facts.inspection()]])).toBeNull();
    expect(told([split, hung, [at(8, 12), facts.atCage()], [at(8, 13), { kind: 'note' }]])).toBeNull();
  });
  it('and where the scale says nothing there is nothing to look for', () => {
    expect(leftTogether(stateAt([split], at(9)), noEvidence)).toBeNull();
  });
});
