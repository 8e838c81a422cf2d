/** Her brood: proved, grafted from, or the end of hope, each on its day. Days are common practice. */
import { describe } from 'vitest';
import {
  course,
  dead,
  drones,
  eggs,
  ended,
  flownOff,
  looked,
  missed,
  out,
  sealed,
  several,
} from './support/after-release.ts';
import { type Entries } from './support/conditions.ts';
import { at, facts } from './support/field-log.ts';
import { may } from './support/permissions.ts';
import { places } from './support/places.ts';

describe('her sealed brood', () => {
  const week3 = '26 00:00 | 27 10:00 | 31 00:00';
  places('check-sealed-brood', [
    {
      name: 'nine days after the eggs that are to be seen',
      log: out,
      now: at(12),
      window: week3,
      why: 'flat cappings prove a mated queen',
    },
    {
      name: 'nine days after her eggs',
      log: [...out, eggs(18)],
      now: at(18, 12),
      window: '27 00:00 | 28 10:00 | 32 00:00',
    },
    { name: 'seen', log: [...out, eggs(17), sealed(27)], now: at(27, 12), window: week3, done: true },
    {
      name: 'not sealed yet: again some days later',
      log: [...out, eggs(17), eggs(27)],
      now: at(27, 12),
      window: '31 00:00 | 31 10:00 | 32 23:59',
    },
    { name: 'never sealed', log: [...out, eggs(17), eggs(27), eggs(31)], now: at(31, 12), window: null },
    {
      name: 'not found twice, and no egg seen',
      log: [...out, missed(17), missed(21)],
      now: at(21, 12),
      window: null,
    },
    {
      name: 'drone brood once',
      log: [...out, drones(22)],
      now: at(22, 12),
      window: '31 00:00 | 32 10:00 | 36 00:00',
    },
    { name: 'drone brood twice', log: [...out, drones(22), drones(26)], now: at(26, 12), window: null },
    { name: 'no egg two weeks after', log: [...out, looked(17), looked(24)], now: at(24, 12), window: null },
    {
      name: 'drone brood beside it: looked at again',
      log: [...out, eggs(17), sealed(27), drones(30)],
      now: at(30, 12),
      window: '34 00:00 | 34 10:00 | 35 23:59',
    },
    { name: 'she is dead', log: [...out, dead(15)], now: at(16), window: null },
    {
      name: 'seen, and closed',
      log: [...out, eggs(17), sealed(27), ended(28)],
      now: at(29),
      window: week3,
      done: true,
    },
    { name: 'closed', log: [...out, eggs(17), ended(18)], now: at(19), window: null },
    {
      name: 'her eggs were seen, and she was not found twice since: her brood tells',
      log: [...out, eggs(17), missed(22), missed(26)],
      now: at(26, 12),
      window: week3,
    },
    {
      name: 'drone brood beside sealed worker brood: looked at again',
      log: [...out, eggs(17), eggs(27, { sealedWorkerBroodSeen: true, droneBroodInWorkerCells: true })],
      now: at(27, 12),
      window: '31 00:00 | 31 10:00 | 32 23:59',
    },
  ]);
});

describe('a graft from her', () => {
  const grafted = [at(30), { kind: 'grafted', larvaAgeHours: 18, cells: 20 }] as unknown as Entries[number];
  places('graft', [
    {
      name: 'once her sealed brood was seen',
      log: [...out, eggs(17), sealed(27)],
      now: at(27, 12),
      window: '27 00:00 | 27 10:00 | 28 23:59',
      offered: true,
    },
    { name: 'her eggs alone were seen', log: [...out, eggs(17)], now: at(18), window: null },
    { name: 'made', log: [...out, eggs(17), sealed(27), grafted], now: at(30, 12), window: null },
    {
      name: 'she was not found since',
      log: [...out, eggs(17), sealed(27), missed(35)],
      now: at(35, 12),
      window: null,
    },
    { name: 'she is dead', log: [...out, eggs(17), sealed(27), dead(30)], now: at(31), window: null },
  ]);
});

describe('the end of hope', () => {
  const today = (day: number) => `${String(day)} 00:00 | ${String(day)} 10:00 | ${String(day + 1)} 23:59`;
  places('unite', [
    { name: 'she is there', log: [...out, eggs(17)], now: at(18), window: null },
    {
      name: 'she flew off',
      log: [...out, flownOff(11)],
      does: 'Log how it ended',
      now: at(16),
      window: today(16),
      offered: true,
      why: 'She is gone',
    },
    { name: 'not found twice', log: [...out, missed(17), missed(21)], now: at(21, 12), window: null },
    {
      name: 'not found three times',
      log: [...out, missed(17), missed(21), missed(25)],
      does: 'Unite it, or shake it out',
      now: at(25, 12),
      window: today(25),
      offered: true,
      why: 'Three looks did not find her',
    },
    {
      name: 'no egg two weeks after',
      log: [...out, looked(17), looked(24)],
      now: at(24, 12),
      window: today(24),
      offered: true,
      why: 'No eggs two weeks after',
    },
    {
      name: 'no egg twelve days after',
      log: [...out, looked(17), looked(22)],
      now: at(22, 12),
      window: null,
    },
    {
      name: 'drone brood',
      log: [...out, drones(22)],
      now: at(22, 12),
      window: today(22),
      offered: true,
      why: 'Drone brood in worker cells',
    },
    {
      name: 'drone brood, then sealed worker brood',
      log: [...out, drones(22), sealed(27)],
      now: at(27, 12),
      window: null,
    },
    {
      name: 'sealed worker brood, then drone brood',
      log: [...out, eggs(17), sealed(27), drones(30)],
      now: at(30, 12),
      window: today(30),
      offered: true,
      why: 'Drone brood in worker cells',
    },
    {
      name: 'sealed worker brood beside drone brood: looked at again first',
      log: [...out, eggs(17), eggs(27, { sealedWorkerBroodSeen: true, droneBroodInWorkerCells: true })],
      now: at(27, 12),
      window: null,
    },
    {
      name: 'drone brood before she was let out',
      log: [
        ...course.slice(0, 3),
        [at(10), facts.cut({}, { droneBroodInWorkerCells: true, youngestBrood: 'sealed-only' })],
        [at(10, 11), facts.opened()],
      ],
      now: at(12),
      window: null,
    },
    { name: 'several eggs in a cell may be hers', log: [...out, several(17)], now: at(17, 12), window: null },
    {
      name: 'never sealed',
      log: [...out, eggs(17), eggs(27), eggs(31)],
      now: at(31, 12),
      window: today(31),
      offered: true,
      why: 'no worker brood was ever sealed',
    },
    {
      name: 'eggs three times, before any could be sealed',
      log: [...out, eggs(17), eggs(21), eggs(25)],
      now: at(25, 12),
      window: null,
    },
    { name: 'not let out yet', log: course, now: at(10, 12), window: null },
    { name: 'closed', log: [...out, flownOff(11), ended(16)], now: at(17), window: null },
  ]);
});

describe('with signs of brood disease', () => {
  const signs = (day: number): Entries[number] => [at(day), { kind: 'brood-disease', found: 'signs' }];
  const proved: Entries = [...out, eggs(17), sealed(27)];
  may('graft', [
    { name: 'none', log: proved, now: at(28), answer: 'go' },
    {
      name: 'no larva is carried out',
      log: [...proved, signs(28)],
      now: at(28, 12),
      answer: 'stop',
      first: 'call-inspector',
    },
    { name: 'closed', log: [...proved, ended(28)], now: at(29), answer: 'stop' },
  ]);
  may('unite', [
    {
      name: 'no bees are carried out',
      log: [...out, missed(17), missed(21), missed(25), signs(25)],
      now: at(25, 12),
      answer: 'stop',
      first: 'call-inspector',
    },
    {
      name: 'how it ended is written down at home',
      log: [...out, flownOff(11), signs(12)],
      now: at(16),
      answer: 'go',
    },
  ]);
});
