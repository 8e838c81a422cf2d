/** May the cage be hung? What stands against it, and the act that comes first. */
import { describe, expect, it } from 'vitest';
import { answerFor } from '../../server/introduction/acts/answer.ts';
import { frame, split, type Entries } from './support/conditions.ts';
import { at, facts, stateAt } from './support/field-log.ts';
import { may } from './support/permissions.ts';

const bees = (framesOfBees: number): Entries => [
  [at(0), facts.split({ framesOfBees })],
  [at(5), facts.arrived()],
];
const here: Entries = [split, [at(5), facts.arrived()]];
const hung = [at(7, 10.5), facts.hung()] as const;
const out: Entries = [
  split,
  [at(7), facts.cut({ sealed: 8 })],
  hung,
  [at(10), facts.cut()],
  [at(10, 11), facts.opened()],
];
const missed = (day: number): Entries[number] => [
  at(day),
  facts.looked({ queenSeen: false, eggsSeen: false }),
];

describe('hang the cage', () => {
  may('hang-cage', [
    { name: 'she is at hand', log: here, now: at(5, 11), answer: 'go', says: 'A queen is at hand.' },
    {
      name: 'nobody has come',
      log: [split],
      now: at(5),
      answer: 'go',
      says: 'No queen is logged as arrived.',
    },
    { name: 'one hangs already', log: [...here, hung], now: at(8), answer: 'stop', first: 'open-candy' },
    { name: 'one was let out', log: out, now: at(14), answer: 'stop', first: 'look-for-queen' },
    {
      name: 'and was not found',
      log: [...out, missed(17)],
      now: at(18),
      answer: 'stop',
      first: 'look-again',
    },
    {
      name: 'and was not found twice',
      log: [...out, missed(17), missed(21)],
      now: at(22),
      answer: 'stop',
      first: 'test-frame-in',
    },
    {
      name: 'one is seen that nobody let out',
      log: [...here, [at(6), facts.looked({ eggsSeen: false })]],
      now: at(7),
      answer: 'stop',
      first: 'take-queen-out',
      says: 'by the log none was let out',
    },
    {
      name: 'she is dead',
      log: [...here, [at(6), { kind: 'queen-dead' }]],
      now: at(7),
      answer: 'wait',
      first: 'queen-arrives',
    },
    {
      name: 'she flew off',
      log: [...here, [at(6), { kind: 'queen-escaped', to: 'outside' }]],
      now: at(7),
      answer: 'wait',
      first: 'queen-arrives',
    },
    {
      name: 'a virgin is seen',
      log: [...here, [at(9), facts.inspection({ virginSeen: true })]],
      now: at(9, 12),
      answer: 'stop',
      first: 'take-queen-out',
    },
    {
      name: 'two test frames without a cell',
      log: [...here, ...frame(10, 12, 0), ...frame(18, 20, 0)],
      now: at(20, 12),
      answer: 'stop',
      first: 'unite',
    },
    {
      name: 'one frame of bees',
      log: bees(1),
      now: at(5, 11),
      answer: 'wait',
      first: 'add-bees',
      says: 'there was only 1 frame of bees.',
    },
    {
      name: 'three quarters of one',
      log: bees(0.75),
      now: at(5, 11),
      answer: 'wait',
      first: 'add-bees',
      says: 'there were only 0.75 frames of bees.',
    },
    {
      name: 'three frames',
      log: bees(3),
      now: at(5, 11),
      answer: 'go',
      says: 'there were 3 frames of bees.',
    },
    {
      name: 'three frames, and the sensors say too few',
      log: bees(3),
      now: at(5, 11),
      evidence: { strength: { text: 'One frame by the scale.', enough: false } },
      answer: 'wait',
      first: 'add-bees',
    },
    {
      name: 'a cold night: asked again tomorrow',
      log: here,
      now: at(5, 11),
      evidence: { outlook: { text: 'Tonight 4 °C.', tooCold: true } },
      answer: 'wait',
      untilMs: at(6, 0),
    },
    {
      name: 'nobody said where she comes from',
      log: here,
      now: at(5, 11),
      answer: 'go',
      says: 'Does she come from abroad?',
    },
    {
      name: 'she comes from abroad',
      log: [split, [at(5), facts.arrived({ origin: 'abroad' })]],
      now: at(5, 11),
      answer: 'go',
      says: 'She comes from abroad: local law',
    },
    ...(['own', 'same-country'] as const).map((origin) => ({
      name: `she comes from here (${origin})`,
      log: [split, [at(5), facts.arrived({ origin })]] as Entries,
      now: at(5, 11),
      answer: 'go' as const,
      notSays: 'abroad',
    })),
    {
      name: 'in a cage: the tape is seen to',
      log: here,
      now: at(5, 11),
      answer: 'go',
      says: 'tape covers the candy',
    },
    {
      name: 'under mesh: where it stands is seen to',
      log: here,
      now: at(5, 11),
      over: { method: 'push-in-cage' },
      answer: 'go',
      says: 'the mesh stands over emerging brood',
      notSays: 'tape',
    },
  ]);
});

const ended = (day: number): Entries[number] => [at(day), { kind: 'outcome', outcome: 'given-up' }];
const bites = [at(18), facts.atCage({ behaviour: 'biting' })] as const;
const stuck: Entries = [...out, [at(17), facts.looked({ cageEmpty: false, eggsSeen: false })]];
const two: Entries = [...here, hung, [at(8), facts.hung({ queenId: 'queen-two' })]];

describe('watch the bees at the cage', () => {
  may('watch-cage', [
    { name: 'none hangs', log: here, now: at(8), answer: 'wait', first: 'hang-cage' },
    { name: 'she hangs', log: [...here, hung], now: at(8), answer: 'go' },
    { name: 'closed', log: [...here, hung, ended(8)], now: at(9), answer: 'stop' },
  ]);
});

describe('take one of two cages out', () => {
  may('take-cage-out', [
    { name: 'two hang', log: two, now: at(9), answer: 'go' },
    { name: 'closed', log: [...two, ended(9)], now: at(10), answer: 'stop' },
  ]);
});

describe('free her', () => {
  may('free-queen', [
    { name: 'she is stuck', log: stuck, now: at(17, 11), answer: 'go' },
    {
      name: 'she is stuck, and they bite',
      log: [...stuck, bites],
      now: at(18, 11),
      answer: 'stop',
      first: 'watch-cage',
    },
    { name: 'closed', log: [...stuck, ended(18)], now: at(19), answer: 'stop' },
  ]);
});

describe('tape the candy end again', () => {
  may('close-candy', [
    { name: 'the candy holds', log: out, now: at(10, 12), answer: 'go' },
    { name: 'closed', log: [...out, ended(11)], now: at(12), answer: 'stop' },
  ]);
});

it.each<{ name: string; log: Entries }>([
  { name: 'nobody said where she comes from', log: here },
  { name: 'she comes from abroad', log: [split, [at(5), facts.arrived({ origin: 'abroad' })]] },
])('what is said has at most 25 words a sentence: $name', ({ log }) => {
  const answer = answerFor(stateAt(log, at(5, 11)));
  const said = [
    ...answer.permissionOf('hang-cage').reasons.map(({ text }) => text),
    ...answer.plan.flatMap(({ why }) => why),
  ].flatMap((text) => String(text).split(/(?<=[.?!]) /));
  expect(said.filter((sentence) => sentence.split(' ').length > 25)).toEqual([]);
});
