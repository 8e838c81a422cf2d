/** When she is looked for once she is out, and may be. Days are common practice. */
import { describe } from 'vitest';
import {
  cellSeen,
  course,
  dead,
  eggs,
  ended,
  flownOff,
  looked,
  missed,
  out,
} from './support/after-release.ts';
import { type Entries, type Setup } from './support/conditions.ts';
import { at, facts } from './support/field-log.ts';
import { may } from './support/permissions.ts';
import { places } from './support/places.ts';

const mesh: Setup = { method: 'push-in-cage' };
const lifted: Entries = [...course, [at(10, 11), { kind: 'cage-taken-out', queen: 'left-in-nuc' }]];

describe('the look for her', () => {
  const usual = '16 11:00 | 17 10:00 | 20 23:59';
  places('look-for-queen', [
    {
      name: 'planned before she is out',
      log: course,
      now: at(10, 12),
      window: '16 10:00 | 17 10:00 | 20 23:59',
    },
    {
      name: 'six days after the candy, better a week',
      log: out,
      does: 'Look for the queen: Is the cage empty, does the queen walk calmly, are there eggs? No longer than needed.',
      now: at(12),
      window: usual,
      why: 'Not for six days after the candy',
    },
    { name: 'late: today', log: out, now: at(22, 9), window: '16 11:00 | 22 10:00 | 20 23:59' },
    {
      name: 'three days after the mesh, better a week',
      log: lifted,
      does: 'Look for the queen: Does the queen walk calmly, are there eggs? No longer than needed.',
      now: at(12),
      over: mesh,
      window: '13 11:00 | 17 10:00 | 20 23:59',
      why: 'Never before she has been out for three full days',
    },
    {
      name: 'she got out by accident',
      log: [...course, [at(10, 11), { kind: 'queen-escaped', to: 'into-the-nuc' }]],
      does: 'No longer than needed.',
      now: at(12),
      window: '13 11:00 | 17 10:00 | 20 23:59',
      why: 'She got out by accident',
    },
    {
      name: 'she was out before the second look: cells are looked for with her',
      log: [...course.slice(0, 3), [at(8, 11), facts.opened()]],
      now: at(9),
      window: '14 11:00 | 15 10:00',
      does: 'Look for cells on every frame: some may have been left when she came out.',
    },
    {
      name: 'a cell was seen since she was let out',
      log: [...out, [at(12), facts.inspection(cellSeen)]],
      now: at(12, 12),
      window: '16 11:00 | 17 10:00',
      does: 'Look for cells on every frame: one was seen since she was let out.',
    },
    {
      name: 'a cell was seen before',
      log: [...course, [at(10, 10.5), facts.inspection(cellSeen)], [at(10, 11), facts.opened()]],
      now: at(12, 12),
      window: '16 11:00 | 17 10:00',
      does: 'No longer than needed.',
    },
    {
      name: 'looked through since, and no cell seen',
      log: [...out, [at(12), facts.inspection()]],
      now: at(12, 12),
      window: '16 11:00 | 17 10:00',
      does: 'No longer than needed.',
    },
    { name: 'made', log: [...out, looked(17)], now: at(17, 12), window: usual, done: true },
    {
      name: 'made too soon, and she was met: again in its time',
      log: [...out, looked(13)],
      now: at(13, 12),
      window: '16 10:00 | 17 10:00 | 20 23:59',
    },
    {
      name: 'made too soon, and eggs were seen',
      log: [...out, eggs(15)],
      now: at(15, 12),
      window: '15 10:00 | 15 10:00',
      done: true,
    },
    {
      name: 'she was met at an inspection, and looked for later',
      log: [...out, [at(17), facts.inspection({ layingQueenSeen: true })], looked(21)],
      now: at(21, 12),
      window: usual,
      done: true,
    },
    { name: 'she is dead', log: [...out, dead(15)], now: at(16), window: null },
    {
      name: 'made, and she died',
      log: [...out, looked(17), dead(18)],
      now: at(19),
      window: usual,
      done: true,
    },
    { name: 'she flew off', log: [...out, flownOff(11)], now: at(16), window: null },
    { name: 'closed', log: [...out, ended(18)], now: at(19), window: null },
    { name: 'made, and closed', log: [...out, eggs(17), ended(18)], now: at(19), window: usual, done: true },
  ]);
});

describe('may she be looked for', () => {
  const before = 'look for them before a virgin can emerge';
  may('look-for-queen', [
    {
      name: 'after six days',
      log: out,
      now: at(16, 12),
      answer: 'wait',
      untilMs: at(17, 0),
      notSays: before,
    },
    { name: 'after a week', log: out, now: at(17, 0), answer: 'go' },
    {
      name: 'after two days: the candy holds her for up to three',
      log: out,
      now: at(12),
      answer: 'stop',
      untilMs: at(16, 11),
      says: 'Bees take up to three days through the candy',
    },
    {
      name: 'she was in her cage within those three days',
      log: [...out, [at(12), facts.atCage()]],
      now: at(12, 12),
      answer: 'stop',
      untilMs: at(16, 11),
      says: 'Bees take up to three days through the candy',
    },
    {
      name: 'she was in her cage after them: her days count from then',
      log: [...out, [at(14), facts.atCage()]],
      now: at(15),
      answer: 'stop',
      untilMs: at(17),
      says: 'She was still in her cage at the last look',
    },
    {
      name: 'two days after the mesh was lifted',
      log: lifted,
      now: at(12),
      over: mesh,
      answer: 'stop',
      untilMs: at(13, 11),
      says: 'Not three full days since the mesh was lifted',
    },
    {
      name: 'let out beside one whose days are over: her own count',
      log: [
        ...out,
        [at(12), facts.arrived({ queenId: 'queen-two' })],
        [at(12, 11), facts.hung({ queenId: 'queen-two' })],
        [at(13, 11), facts.opened()],
      ],
      now: at(17, 12),
      answer: 'stop',
      untilMs: at(19, 11),
    },
    {
      name: 'another hangs, and the first has her days outside',
      log: [
        ...out,
        [at(12), facts.arrived({ queenId: 'queen-two' })],
        [at(12, 11), facts.hung({ queenId: 'queen-two' })],
      ],
      now: at(14),
      answer: 'stop',
      untilMs: at(16, 11),
      says: 'The queen that was let out before needs her days outside',
    },
    {
      name: 'another hangs, and the days of the first are over',
      log: [
        ...out,
        [at(12), facts.arrived({ queenId: 'queen-two' })],
        [at(12, 11), facts.hung({ queenId: 'queen-two' })],
      ],
      now: at(16, 11),
      answer: 'go',
      says: 'The queen that was let out before is looked for',
    },
    { name: 'she hangs in her cage', log: course, now: at(11), answer: 'wait', first: 'open-candy' },
    {
      name: 'she died in her cage: the next one comes first',
      log: [...course, dead(11)],
      now: at(12),
      answer: 'wait',
      first: 'queen-arrives',
    },
    {
      name: 'not found three days ago',
      log: [...out, missed(17)],
      now: at(20),
      answer: 'wait',
      untilMs: at(21, 0),
    },
    {
      name: 'not found four days ago',
      log: [...out, missed(17)],
      now: at(21, 0),
      answer: 'go',
      says: 'Days have passed since she was not found',
    },
    {
      name: 'robbers are at it: not today',
      log: out,
      now: at(17),
      evidence: { robbing: 'Robbers are at it.' },
      answer: 'wait',
      untilMs: at(18, 0),
      says: 'Open it once the robbing has ended',
    },
    {
      name: 'it is too cold today',
      log: out,
      now: at(17),
      evidence: { weather: { text: 'It is 8 °C.', fitToOpen: false } },
      answer: 'wait',
      untilMs: at(18, 0),
      says: 'It is 8 °C.',
    },
    {
      name: 'nobody can tell the weather: she may be',
      log: out,
      now: at(17),
      evidence: { weather: { text: 'No forecast.', fitToOpen: 'unknown' } },
      answer: 'go',
      says: 'No forecast.',
    },
    {
      name: 'after six days, and every frame was gone through since: cells were looked for twice before',
      log: [...out, [at(12), facts.inspection()]],
      now: at(16, 12),
      answer: 'wait',
      untilMs: at(17, 0),
      notSays: before,
    },
    {
      name: 'after six days, and she was out before the second look',
      log: [...course.slice(0, 3), [at(8, 11), facts.opened()]],
      now: at(14, 12),
      answer: 'go',
      says: before,
    },
  ]);
});
