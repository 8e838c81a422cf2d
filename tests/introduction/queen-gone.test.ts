/**
 * A queen that was brought and is gone again: until when she may have laid, in days after the split. First eggs are seen
 * three days after she is out at the earliest, a day and a half after the candy was opened as a rule (common practice).
 */
import { describe } from 'vitest';
import { split, type Entries } from './support/conditions.ts';
import { at, facts } from './support/field-log.ts';
import { lastEggs, notSeen, some, through } from './support/last-eggs.ts';

describe('the queen that was brought, and is gone', () => {
  const course: Entries = [
    split,
    [at(7), facts.cut({ sealed: 8 })],
    [at(7), facts.hung()],
    [at(10), facts.cut()],
    [at(10), facts.opened()],
  ];
  const dead = (day: number): Entries[number] => [at(day), { kind: 'queen-dead' }];
  const looked = (day: number, over: Parameters<typeof facts.looked>[0] = {}): Entries[number] => [
    at(day),
    facts.looked({ eggsSeen: false, ...over }),
  ];
  const ownOut: Entries = [split, [at(2), facts.cut()], [at(2), facts.hung()], [at(2), facts.opened()]];
  const perhaps = 'a queen that was brought may have laid until then';
  lastEggs([
    {
      name: 'her eggs were seen on day 17, and she died on day 20',
      log: [...course, looked(17, { eggsSeen: true }), dead(20)],
      egg: [13.5, 20],
      perhaps: null,
      queenless: [13.5, 20],
      likely: 20,
      first: 0,
      later: [20],
    },
    {
      name: 'her young larvae were seen in a look through the frames',
      log: [...course, some(18, { youngestBrood: 'young-larvae' }), dead(20)],
      egg: [14.5, 20],
      later: [20],
    },
    {
      name: 'no egg was seen, and she died a week after: she may have laid until then',
      log: [...course, dead(17)],
      egg: [0, 17],
      queenless: [0, 17],
      likely: 17,
      first: 0,
      later: [17],
      perhaps: 17,
      restsOn: ['split made with the old queen seen in the parent colony', perhaps],
    },
    {
      name: 'no egg was seen four and a half days after the candy was opened: she had no time to lay',
      log: [...course, [at(14, 22), { kind: 'queen-dead' }]],
      egg: [0, 0],
      later: [],
    },
    {
      name: 'and a little more than that',
      log: [...course, [at(14, 23), { kind: 'queen-dead' }]],
      later: [14.54],
    },
    {
      name: 'her cage was empty on day 11: out since then',
      log: [...course, looked(11, { queenSeen: false }), [at(14, 22), { kind: 'queen-dead' }]],
      later: [14.5],
    },
    {
      name: 'she sat in her cage on day 16: not out before',
      log: [...course, [at(16), facts.atCage()], dead(17)],
      later: [],
    },
    {
      name: 'she sat in her cage on day 17, and was taken out: never out',
      log: [
        ...course,
        looked(17, { cageEmpty: false }),
        [at(17, 11), { kind: 'cage-taken-out', queen: 'in-the-cage' }],
      ],
      egg: [0, 0],
      later: [],
    },
    {
      name: 'she got out by accident on day 8, and died on day 12',
      log: [...course.slice(0, 3), [at(8), { kind: 'queen-escaped', to: 'into-the-nuc' }], dead(12)],
      later: [12],
    },
    {
      name: 'no egg was seen, but sealed brood of hers',
      log: [...course, looked(22, { sealedWorkerBroodSeen: true }), dead(24)],
      egg: [0, 24],
      later: [24],
    },
    {
      name: 'sealed brood alone on every frame, after she died: none of it can be hers',
      log: [...course, dead(17), through(18, { youngestBrood: 'sealed-only' })],
      egg: [0, 0],
      later: [],
      perhaps: null,
    },
    {
      name: 'sealed brood alone on every frame, after she was out for two weeks: it can be hers',
      log: [...course, dead(24), through(25, { youngestBrood: 'sealed-only' })],
      egg: [3, 16.5],
      perhaps: null,
      later: [24],
    },
    {
      name: 'no brood on every frame, after she was out for two weeks',
      log: [...course, dead(24), through(25, { youngestBrood: 'none' })],
      egg: [0, 0],
      later: [],
    },
    {
      name: 'sealed brood alone before she died',
      log: [...course, through(16, { youngestBrood: 'sealed-only' }), dead(17)],
      later: [17],
    },
    {
      name: 'sealed brood alone, and a frame was left out',
      log: [...course, dead(17), through(18, { youngestBrood: 'sealed-only', everyFrameChecked: false })],
      later: [17],
    },
    {
      name: 'sealed brood alone, and bees were not shaken off',
      log: [...course, dead(17), through(18, { youngestBrood: 'sealed-only', beesShakenOff: false })],
      later: [17],
    },
    { name: 'nobody looked for brood', log: [...course, dead(17), through(18)], later: [17] },
    {
      name: 'where a queen may be laying in it the date stays open',
      log: [notSeen(), ...course.slice(1), dead(17)],
      egg: [-2, null],
      later: [17],
    },
    {
      name: 'a queen of one’s own lays as soon as she is out',
      log: [...ownOut, dead(5)],
      over: { startingPoint: 'own-laying-queen' },
      egg: [0, 5],
      later: [5],
    },
    {
      name: 'a bought one does not',
      log: [...ownOut, dead(5)],
      egg: [0, 0],
      later: [],
    },
    {
      name: 'under mesh she may lay after three days',
      log: [split, [at(1), facts.hung()], [at(4, 11), { kind: 'queen-dead' }]],
      over: { method: 'push-in-cage' },
      later: [4.04],
    },
    {
      name: 'eggs outside the mesh are not hers',
      log: [
        split,
        [at(1), facts.hung()],
        some(3, { youngestBrood: 'eggs', eggsOutsideMesh: true }),
        [at(3, 12), { kind: 'queen-dead' }],
      ],
      over: { method: 'push-in-cage' },
      later: [],
    },
    {
      name: 'and not before',
      log: [split, [at(1), facts.hung()], dead(4)],
      over: { method: 'push-in-cage' },
      later: [],
    },
    {
      name: 'eggs of the old queen, seen on day 2, are none of hers',
      log: [split, some(2, { youngestBrood: 'eggs' }), ...course.slice(1), dead(17)],
      egg: [0, 17],
      later: [17],
    },
    {
      name: 'larvae near sealing, and no egg, tell nothing of when she began',
      log: [...course, some(22, { youngestBrood: 'old-larvae' }), dead(24)],
      egg: [0, 24],
      later: [24],
    },
    {
      name: 'eggs of the first, and the second had no time to lay',
      log: [
        ...course,
        looked(17, { eggsSeen: true }),
        dead(20),
        [at(21), facts.hung({ queenId: 'queen-two' })],
        [at(21), facts.opened()],
        dead(23),
      ],
      egg: [13.5, 20],
      later: [20],
    },
    { name: 'she is there still', log: [...course, looked(17, { eggsSeen: true })], egg: [0, 0], later: [] },
    {
      name: 'two queens, one after the other',
      log: [
        ...course,
        dead(17),
        [at(18), facts.hung({ queenId: 'queen-two' })],
        [at(18), facts.opened()],
        looked(25, { eggsSeen: true }),
        dead(28),
      ],
      egg: [21.5, 28],
      first: 0,
      later: [17, 28],
    },
    {
      name: 'eggs of the second are none of the first',
      log: [
        ...course,
        dead(13),
        [at(18), facts.hung({ queenId: 'queen-two' })],
        [at(18), facts.opened()],
        looked(25, { eggsSeen: true }),
        dead(28),
      ],
      egg: [21.5, 28],
      later: [28],
    },
    {
      name: 'larvae near sealing on day 26: her last egg was not laid before day 15½',
      log: [
        ...course,
        looked(17, { eggsSeen: true }),
        dead(20),
        through(26, { youngestBrood: 'old-larvae' }),
      ],
      egg: [15.5, 20],
      later: [20],
    },
    {
      name: 'sealed brood alone on day 27: her last egg was laid by day 18½',
      log: [
        ...course,
        looked(17, { eggsSeen: true }),
        dead(20),
        through(27, { youngestBrood: 'sealed-only' }),
      ],
      egg: [13.5, 18.5],
    },
  ]);
});
