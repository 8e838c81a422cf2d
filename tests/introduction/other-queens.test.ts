/** More than one queen: another that comes, one that nobody let out, and when she that was let out is given up. */
import { describe, expect, it } from 'vitest';
import { mayBeOut, noEggsForTwoWeeks, strangerSeen } from '../../server/introduction/queen/queen-state.ts';
import { at, facts, zone } from './support/field-log.ts';
import {
  cageOut,
  came,
  check,
  dead,
  hung,
  looked,
  opened,
  out,
  queenOf,
  second,
  taken,
  type Entries,
  type Row,
} from './support/queen-log.ts';

const deadInCage = (day: number): Entries[number] => [at(day), facts.atCage({ queenAlive: false })];
const later = (day: number): Entries[number] => [at(day, 10.5), { kind: 'queen-dead' }];

describe('another queen', () => {
  it.each<Row>([
    {
      name: 'is in the hand, and the one before is seen: she is back in her place',
      log: [...second, looked(21, { queenSeen: true })],
      is: { where: 'seen-loose', releasedAtMs: at(10), earlierMayBeOut: false },
    },
    {
      name: 'hangs, and one is seen outside: nobody can say since when',
      log: [...second, hung(20, 'queen-two'), looked(21, { cageEmpty: false, queenSeen: true })],
      is: { releasedAtMs: null, earlierMayBeOut: true, earlierOutSinceMs: at(10) },
    },
    {
      name: 'is out too, and one is seen',
      log: [...second, hung(20, 'queen-two'), opened(23), looked(30, { queenSeen: true })],
      is: { where: 'seen-loose', releasedAtMs: at(23), earlierMayBeOut: true },
    },
    {
      name: 'is in the hand, and the one before is found and taken out',
      log: [...second, taken(21, 'old-queen')],
      is: { where: 'arrived', earlierMayBeOut: false },
    },
    {
      name: 'is in the hand, and a virgin is taken out: the one before may be there still',
      log: [...second, taken(21, 'virgin')],
      is: { where: 'arrived', earlierMayBeOut: true },
    },
    {
      name: 'hung without a word of her arrival takes nothing over from the one before',
      log: [came(5, { origin: 'abroad', daysInPost: 4 }), hung(7, 'queen-two')],
      is: { queenId: 'queen-two', where: 'in-cage', arrivedAtMs: null, origin: null, daysInPost: null },
    },
    {
      name: 'comes while one hangs: kept for her place',
      log: [hung(7), came(8, { queenId: 'queen-two', daysInPost: 3 })],
      is: {
        queenId: 'queen-one',
        spare: { queenId: 'queen-two', atMs: at(8), origin: null, daysInPost: 3 },
      },
    },
    {
      name: 'came while one hung, and is hung after her',
      log: [hung(7), came(8, { queenId: 'queen-two', origin: 'abroad' }), cageOut(9), hung(9, 'queen-two')],
      is: { queenId: 'queen-two', arrivedAtMs: at(8), origin: 'abroad', besideAnother: false },
    },
    {
      name: 'comes dead while one hangs',
      log: [hung(7), came(8, { queenId: 'queen-two', condition: 'dead' })],
      is: { queenId: 'queen-one', where: 'in-cage', deadAtMs: null },
    },
    {
      name: 'hangs beside the first, and one of them dies',
      log: [hung(7), hung(8, 'queen-two'), dead(9)],
      is: { where: 'in-cage', besideAnother: false, deadAtMs: null },
    },
    {
      name: 'is a spare, and the first is found dead in her cage and logged as dead: the spare lives',
      log: [hung(7), came(8, { queenId: 'queen-two' }), deadInCage(10), later(10)],
      is: { queenId: 'queen-two', where: 'arrived', deadAtMs: null },
    },
    {
      name: 'is a spare, and the first is balled to death and logged as dead: the spare lives',
      log: [
        hung(7),
        came(8, { queenId: 'queen-two' }),
        [at(10), { kind: 'balled', rescued: false }],
        later(10),
      ],
      is: { queenId: 'queen-two', where: 'arrived', deadAtMs: null },
    },
    {
      name: 'is a spare, and dies the day after the first',
      log: [hung(7), came(8, { queenId: 'queen-two' }), deadInCage(10), dead(11)],
      is: { queenId: 'queen-two', where: 'dead' },
    },
    {
      name: 'hangs beside the first, and one is found dead and logged as dead: the other hangs still',
      log: [hung(7), hung(8, 'queen-two'), dead(9), [at(9, 10.5), facts.atCage({ queenAlive: false })]],
      is: { where: 'in-cage', besideAnother: false, deadAtMs: null },
    },
    {
      name: 'hangs beside the first, and both are logged as dead in one visit',
      log: [hung(7), hung(8, 'queen-two'), dead(9), later(9)],
      is: { where: 'dead' },
    },
    {
      name: 'is hung in the visit that found the first dead, and is found dead in it too',
      log: [hung(7), deadInCage(9), [at(9, 10.2), facts.hung({ queenId: 'queen-two' })], later(9)],
      is: { queenId: 'queen-two', where: 'dead' },
    },
    {
      name: 'is the same, hung again',
      log: [hung(7), hung(8)],
      is: { queenId: 'queen-one', besideAnother: false, cageHungAtMs: at(8) },
    },
  ])('$name', check);
});

describe('her arrival, written down once she hangs', () => {
  it.each<Row>([
    {
      name: 'was that day at the latest',
      log: [hung(7), came(8, { origin: 'abroad', daysInPost: 4 })],
      is: { where: 'in-cage', arrivedAtMs: at(7), origin: 'abroad', daysInPost: 4, spare: null },
    },
    {
      name: 'changes nothing that was known',
      log: [came(5, { origin: 'own', daysInPost: 0 }), hung(7), came(8, { origin: 'abroad', daysInPost: 4 })],
      is: { where: 'in-cage', arrivedAtMs: at(5), origin: 'own', daysInPost: 0, spare: null },
    },
    {
      name: 'says nothing of where she comes from',
      log: [came(5, { origin: 'own', daysInPost: 1 }), hung(7), came(8)],
      is: { origin: 'own', daysInPost: 1 },
    },
    {
      name: 'says that she was dead',
      log: [hung(7), came(8, { condition: 'dead' })],
      is: { where: 'dead', deadAtMs: at(8) },
    },
  ])('$name', check);
});

describe('a queen that nobody let out', () => {
  const seen = looked(5, { queenSeen: true });
  it.each<Row>([
    { name: 'is seen', log: [seen], is: { where: 'seen-loose', releasedAtMs: null } },
    { name: 'is seen and taken away', log: [seen, taken(6, 'old-queen')], is: { where: 'not-here' } },
    {
      name: 'is seen and taken away in one visit',
      log: [seen, taken(5, 'virgin')],
      is: { where: 'not-here' },
    },
    { name: 'the same, a young queen', log: [seen, taken(5, 'young-queen')], is: { where: 'not-here' } },
    {
      name: 'is seen and taken away, the bought one at hand',
      log: [came(4), seen, taken(6, 'old-queen')],
      is: { where: 'arrived' },
    },
    {
      name: 'is taken away while the bought one hangs',
      log: [hung(7), taken(8, 'old-queen')],
      is: { where: 'in-cage' },
    },
    {
      name: 'is taken away, a virgin, and the bought one walks',
      log: [...out, looked(17, { queenSeen: true }), taken(18, 'virgin')],
      is: { where: 'seen-loose', releasedAtMs: at(10) },
    },
    {
      name: 'is taken away, the old one, after a queen and eggs were seen: whose they were is open again',
      log: [...out, looked(17, { queenSeen: true, eggsSeen: true }), taken(18, 'old-queen')],
      is: { where: 'released', firstEggsAtMs: null, lastLookedAtMs: null, notFoundAtMs: [at(18)] },
    },
    {
      name: 'is taken away, the old one, in the minute of the look that met her: they may have been hers',
      log: [...out, looked(17, { queenSeen: true, eggsSeen: true }), taken(17, 'old-queen')],
      is: { where: 'released', firstEggsAtMs: null, notFoundAtMs: [at(17)] },
    },
    {
      name: 'is taken away, the old one, in the minute of a look that missed her that was let out',
      log: [...out, looked(17), taken(17, 'old-queen')],
      is: { where: 'released', notFoundAtMs: [at(17)] },
    },
    {
      name: 'is taken away, the old one, after eggs alone were seen: they may have been hers',
      log: [...out, looked(17, { eggsSeen: true }), taken(18, 'old-queen')],
      is: { where: 'released', firstEggsAtMs: null, notFoundAtMs: [at(18)] },
    },
    {
      name: 'is taken away, the old one, before anybody looked for her that was let out: she has her days still',
      log: [...out, taken(12, 'old-queen')],
      is: { where: 'released', releasedAtMs: at(10), notFoundAtMs: [] },
    },
    {
      name: 'is taken away, the old one, and she that was let out is in her place a week later',
      log: [
        ...out,
        looked(17, { eggsSeen: true }),
        taken(18, 'old-queen'),
        looked(25, { queenSeen: true, eggsSeen: true }),
      ],
      is: { where: 'seen-loose', firstEggsAtMs: at(25), notFoundAtMs: [] },
    },
  ])('$name', check);

  it('is a stranger, and not one that may be out', () => {
    const stranger = queenOf([seen]);
    expect([strangerSeen(stranger), mayBeOut(stranger)]).toEqual([true, false]);
    const hers = queenOf([...out, looked(17, { queenSeen: true })]);
    expect([strangerSeen(hers), mayBeOut(hers)]).toEqual([false, true]);
    const none = queenOf([]);
    expect([strangerSeen(none), mayBeOut(none)]).toEqual([false, false]);
    const caged = queenOf([hung(7)]);
    expect([strangerSeen(caged), mayBeOut(caged)]).toEqual([false, false]);
  });
});

describe('no egg two weeks after she was let out', () => {
  it.each<readonly [name: string, log: Entries, failing: boolean]>([
    ['seen on day 24', [...out, looked(24, { queenSeen: true })], true],
    ['not seen on day 24', [...out, looked(24)], true],
    ['seen a day before', [...out, looked(23, { queenSeen: true })], false],
    ['nobody looked', out, false],
    ['eggs on day 17', [...out, looked(17, { eggsSeen: true }), looked(30, { queenSeen: true })], false],
    ['she is stuck in the cage', [...out, looked(24, { cageEmpty: false })], false],
    ['none was let out', [hung(7), looked(30, { cageEmpty: false })], false],
    ['none is here', [looked(30)], false],
  ])('%s: %s', (_, log, failing) => {
    expect(noEggsForTwoWeeks({ queen: queenOf(log), setup: { timeZone: zone } })).toBe(failing);
  });
});
