/**
 * Signs at the hive that stand against an act: laying workers, a balling, bees that bite, a move. Workers are watched for from
 * three weeks without a queen on; bees calm down within days of a balling (common practice).
 */
import { describe } from 'vitest';
import { layingWorkers } from '../../server/introduction/acts/common-conditions.ts';
import { hiveSigns } from '../../server/introduction/acts/hive-signs.ts';
import { moveDistance } from '../../server/introduction/acts/move-condition.ts';
import { frame, hung, split, table, type Entries, type Setup } from './support/conditions.ts';
import { at, facts } from './support/field-log.ts';
import { may } from './support/permissions.ts';

const cage = (day: number, behaviour: 'biting' | 'feeding'): Entries[number] => [
  at(day),
  facts.atCage({ behaviour }),
];
const look = [at(12), facts.inspection()] as const;
const ownQueen: Setup = { startingPoint: 'own-laying-queen' };

const drones = facts.inspection({ youngestBrood: 'none', droneBroodInWorkerCells: true });
const clean = facts.inspection({ youngestBrood: 'none' });
const out: Entries = [split, hung, [at(10), facts.opened()]];
const dronesBesideHer: Entries = [
  ...out,
  [at(17), facts.looked()],
  [at(27), facts.looked({ droneBroodInWorkerCells: true })],
  [at(27, 11), { kind: 'queen-dead' }],
];
table('laying workers', (state) => layingWorkers(state, state.nowMs), [
  { name: 'nobody looks before day 21', log: [split], now: at(20), says: null },
  { name: 'looked for on day 21', log: [split], now: at(21), says: ['wait', { first: 'look-through' }] },
  { name: 'none three days ago', log: [split, [at(21), clean]], now: at(24), says: 'met' },
  {
    name: 'none four days ago',
    log: [split, [at(21), clean]],
    now: at(25),
    says: ['wait', { first: 'look-through' }],
  },
  { name: 'they lay', log: [split, [at(21), drones]], now: at(22), says: ['stop', { first: 'unite' }] },
  {
    name: 'none at a look since: another one decides, longer after it than an egg lasts',
    log: [split, [at(21), drones], [at(24), clean]],
    now: at(25),
    says: ['stop', { first: 'look-through', fromMs: at(28) }],
    text: 'unless a second look',
  },
  {
    name: 'none at a look five days ago: another one decides now',
    log: [split, [at(21), drones], [at(24), clean]],
    now: at(29),
    says: ['stop', { first: 'look-through', fromMs: at(29) }],
  },
  {
    name: 'seen since she was let out: hers or theirs',
    log: dronesBesideHer.slice(0, -1),
    now: at(28),
    says: ['stop', { first: 'unite' }],
    text: 'she lays drones, or workers lay',
  },
  {
    name: 'an egg on a wall on day 9: looked for again from the next day on',
    log: [split, [at(9), facts.inspection({ eggsStand: 'walls' })]],
    now: at(9, 12),
    says: ['wait', { first: 'look-through', fromMs: at(10, 0), untilMs: at(10, 0) }],
  },
  {
    name: 'an egg on a wall on day 9, the day after',
    log: [split, [at(9), facts.inspection({ eggsStand: 'walls' })]],
    now: at(10, 9),
    says: ['wait', { first: 'look-through' }],
  },
  { name: 'nobody knows since when it is queenless', log: [], now: at(60), says: null },
  { name: 'she is out since day 10, and nobody has looked for her', log: out, now: at(22), says: null },
  {
    name: 'she lays since day 17',
    log: [...out, [at(17), facts.looked()]],
    now: at(30),
    says: null,
  },
  {
    name: 'she lays, and brood of workers is seen',
    log: [...out, [at(17), facts.looked()], [at(27), drones]],
    now: at(30),
    says: ['stop', { first: 'unite' }],
  },
  {
    name: 'drone brood beside her, and she is dead since: a frame tells',
    log: dronesBesideHer,
    now: at(28),
    says: ['stop', { first: 'test-frame-in' }],
  },
  {
    name: 'drone brood beside her, and again days after she died: it may be hers still',
    log: [...dronesBesideHer, [at(33), drones]],
    now: at(34),
    says: ['stop', { first: 'test-frame-in' }],
  },
  {
    name: 'drone brood beside her, and several eggs in a cell days after she died',
    log: [...dronesBesideHer, [at(33), facts.inspection({ severalEggsACell: true, youngestBrood: 'eggs' })]],
    now: at(34),
    says: ['stop', { first: 'unite' }],
  },
  {
    name: 'drone brood while she sat in her cage, and she is dead since',
    log: [
      ...out,
      [at(27), facts.looked({ cageEmpty: false, droneBroodInWorkerCells: true })],
      [at(27, 11), { kind: 'queen-dead' }],
    ],
    now: at(28),
    says: ['stop', { first: 'unite' }],
  },
  {
    name: 'she is dead',
    log: [...out, [at(17), { kind: 'queen-dead' }]],
    now: at(22),
    says: ['wait', { first: 'look-through' }],
  },
]);

describe('once she is out', () => {
  may('open-candy', [
    {
      name: 'no chance that workers lay is told',
      log: [...out, [at(17), facts.looked()]],
      now: at(30),
      answer: 'stop',
      first: 'look-for-queen',
      notSays: 'orkers',
    },
  ]);
});

const balled = [at(8), { kind: 'balled', rescued: true }] as const;
const searched = [at(8, 11), facts.inspection()] as const;
table('after a balling', (state) => hiveSigns(state, state.nowMs).at(-2), [
  { name: 'none', log: [split, hung], now: at(9), says: null },
  {
    name: 'nobody looked for the cause',
    log: [split, hung, balled],
    now: at(12),
    says: ['stop', { first: 'look-through' }],
  },
  {
    name: 'looked for before it',
    log: [split, hung, [at(7, 11), facts.inspection()], balled],
    now: at(12),
    says: ['stop', { first: 'look-through' }],
  },
  {
    name: 'looked for earlier that day: she was balled in that visit',
    log: [split, hung, [at(8, 9), facts.inspection()], balled],
    now: at(9),
    says: ['wait', { untilMs: at(11, 0) }],
  },
  {
    name: 'looked for the cause: three days to calm down',
    log: [split, hung, balled, searched],
    now: at(10, 23),
    says: ['wait', { untilMs: at(11, 0) }],
  },
  {
    name: 'three days later nobody has watched them',
    log: [split, hung, balled, searched, cage(10, 'feeding')],
    now: at(11, 9),
    says: ['wait', { first: 'watch-cage' }],
  },
  {
    name: 'calm on day 11',
    log: [split, hung, balled, searched, cage(11, 'feeding')],
    now: at(11, 11),
    says: 'met',
  },
  {
    name: 'biting on day 11',
    log: [split, hung, balled, searched, cage(11, 'biting')],
    now: at(11, 11),
    says: ['wait', { first: 'watch-cage' }],
  },
]);

table('bees at the cage', (state) => hiveSigns(state, state.nowMs).at(-1), [
  { name: 'nobody watched', log: [split, hung], now: at(8), says: 'unknown' },
  { name: 'calm', log: [split, hung, cage(8, 'feeding')], now: at(8, 12), says: 'met' },
  {
    name: 'biting: watched again the next day',
    log: [split, hung, cage(8, 'biting')],
    now: at(8, 12),
    says: ['stop', { first: 'watch-cage', fromMs: at(9, 0) }],
  },
  {
    name: 'biting for a second day: the cause is looked for',
    log: [split, hung, cage(8, 'biting'), cage(9, 'biting')],
    now: at(9, 12),
    says: ['stop', { first: 'look-through' }],
  },
  {
    name: 'beside a queen of one’s own: the cells are cut',
    log: [split, hung, cage(8, 'biting'), cage(9, 'biting')],
    now: at(9, 12),
    over: ownQueen,
    says: ['stop', { first: 'cut-cells' }],
  },
  {
    name: 'looked for before they bit',
    log: [split, hung, [at(7, 12), facts.inspection()], cage(8, 'biting'), cage(9, 'biting')],
    now: at(9, 12),
    says: ['stop', { first: 'look-through' }],
  },
  {
    name: 'for five days, looked through since: a test frame',
    log: [split, hung, cage(8, 'biting'), look, cage(13, 'biting')],
    now: at(13, 12),
    says: ['stop', { first: 'test-frame-in' }],
  },
  {
    name: 'for two days, looked through since: watched on',
    log: [split, hung, cage(11, 'biting'), look, cage(13, 'biting')],
    now: at(13, 12),
    says: ['stop', { first: 'watch-cage', fromMs: at(14, 0) }],
  },
  {
    name: 'for five days, looked through and tested since: watched on',
    log: [split, hung, cage(8, 'biting'), look, ...frame(12, 14, 3), cage(14, 'biting')],
    now: at(14, 12),
    says: ['stop', { first: 'watch-cage', fromMs: at(15, 0) }],
  },
  {
    name: 'for five days, and the frame is still in',
    log: [
      split,
      hung,
      cage(8, 'biting'),
      look,
      [at(12, 12), facts.broodAdded({ asTestFrame: true })],
      cage(13, 'biting'),
    ],
    now: at(13, 12),
    says: ['stop', { first: 'test-frame-out' }],
  },
  {
    name: 'for five days, tested before they bit',
    log: [split, ...frame(3, 5, 3), hung, cage(8, 'biting'), look, cage(13, 'biting')],
    now: at(13, 12),
    says: ['stop', { first: 'test-frame-in' }],
  },
  {
    name: 'hostile at the last visit',
    log: [split, hung, cage(8, 'feeding'), [at(9), facts.inspection({ temperament: 'hostile' })]],
    now: at(9, 12),
    says: ['stop', { first: 'watch-cage' }],
  },
  {
    name: 'hostile, and calm at the cage since',
    log: [split, hung, [at(9), facts.inspection({ temperament: 'hostile' })], cage(10, 'feeding')],
    now: at(10, 12),
    says: 'met',
  },
]);

const bitTwoDays: Entries = [split, hung, cage(8, 'biting'), cage(9, 'biting')];
const virgin: Entries = [[at(12), facts.inspection({ everyFrameChecked: false, virginSeen: true })]];
table('bees that bit for days, and are calm', (state) => hiveSigns(state, state.nowMs).at(-2), [
  {
    name: 'nobody looked for the cause',
    log: [...bitTwoDays, cage(10, 'feeding')],
    now: at(10, 12),
    says: ['wait', { first: 'look-through' }],
    text: 'Nobody has looked for the cause since',
  },
  {
    name: 'beside a queen of one’s own: the cells are cut',
    log: [...bitTwoDays, cage(10, 'feeding')],
    now: at(10, 12),
    over: ownQueen,
    says: ['wait', { first: 'cut-cells' }],
  },
  { name: 'looked for', log: [...bitTwoDays, cage(10, 'feeding'), look], now: at(12, 12), says: 'met' },
  {
    name: 'looked for on some frames',
    log: [...bitTwoDays, cage(10, 'feeding'), ...virgin],
    now: at(12, 12),
    says: ['wait', { first: 'look-through' }],
  },
  {
    name: 'looked for on the first day, after they bit',
    log: [...bitTwoDays, [at(8, 12), facts.inspection()], cage(10, 'feeding')],
    now: at(10, 12),
    says: 'met',
  },
  {
    name: 'a test frame told',
    log: [...bitTwoDays, ...frame(10, 12, 3), cage(12, 'feeding')],
    now: at(12, 12),
    says: 'met',
  },
  {
    name: 'a test frame told nothing',
    log: [...bitTwoDays, ...frame(10, 10, 0), cage(12, 'feeding')],
    now: at(12, 12),
    says: ['wait', { first: 'look-through' }],
  },
  {
    name: 'looked for, and they bit again for two days since',
    log: [
      ...bitTwoDays,
      cage(10, 'feeding'),
      look,
      cage(13, 'biting'),
      cage(14, 'biting'),
      cage(15, 'feeding'),
    ],
    now: at(15, 12),
    says: ['wait', { first: 'look-through' }],
  },
  {
    name: 'calm between, and bit on one day more',
    log: [...bitTwoDays, cage(10, 'feeding'), cage(11, 'biting'), cage(12, 'feeding')],
    now: at(12, 12),
    says: ['wait', { first: 'look-through' }],
  },
  {
    name: 'on one day',
    log: [
      split,
      hung,
      cage(8, 'biting'),
      [at(8, 16), facts.atCage({ behaviour: 'biting' })],
      cage(9, 'feeding'),
    ],
    now: at(9, 12),
    says: null,
  },
  { name: 'biting still: that asks for it', log: bitTwoDays, now: at(9, 12), says: null },
]);

table('the distance it was moved', (state) => moveDistance(state), [
  {
    name: 'on day 6: the old bees had flown home',
    log: [split, [at(6), { kind: 'moved', metres: 8000 }]],
    now: at(7),
    says: null,
  },
  {
    name: 'on day 4: in poor weather some may be in it still',
    log: [split, [at(4), { kind: 'moved', metres: 8000 }]],
    now: at(5),
    says: 'fault',
  },
  {
    name: 'far at the split, and again on day 6: they came along',
    log: [split, [at(0, 12), { kind: 'moved', metres: 8000 }], [at(6), { kind: 'moved', metres: 9000 }]],
    now: at(7),
    says: 'fault',
  },
  { name: 'nobody wrote it down', log: [split], now: at(1), says: null },
  {
    name: 'a colony that was not split has no parent',
    log: [
      [at(0), facts.inspection({ youngestBrood: 'none' })],
      [at(0, 12), { kind: 'moved', metres: 8000 }],
    ],
    now: at(1),
    over: { startingPoint: 'hopelessly-queenless' },
    says: null,
  },
  {
    name: 'out of the range of its foragers',
    log: [split, [at(0, 12), { kind: 'moved', metres: 8000 }]],
    now: at(1),
    says: 'fault',
    text: 'moved 8.0 km',
  },
  {
    name: 'to the end of the apiary',
    log: [split, [at(0, 12), { kind: 'moved', metres: 60 }]],
    now: at(1),
    says: null,
  },
  {
    name: 'two metres',
    log: [split, [at(0, 12), { kind: 'moved', metres: 2 }]],
    now: at(1),
    says: 'fault',
    text: 'only 2 m',
  },
]);
