/** What the next introduction in the same nuc starts from: the last egg and the time without a queen, in days after the split. */
import { describe, expect, it } from 'vitest';
import { carryOver, nextStartingPoint } from '../../server/introduction/carry-over.ts';
import type { FactPayload, StartingPoint } from '../../server/introduction/log/facts.ts';
import { at, cells, cleanEntries, facts, stateAt } from './support/field-log.ts';

type Entries = readonly (readonly [number, FactPayload])[];
type Outcome = Extract<FactPayload, { kind: 'outcome' }>['outcome'];

const out: Entries = [...cleanEntries, [at(10), facts.opened()]];
const looked = (day: number, over: Parameters<typeof facts.looked>[0] = {}): Entries[number] => [
  at(day),
  facts.looked({ eggsSeen: false, ...over }),
];
const dead = (day: number): Entries[number] => [at(day), { kind: 'queen-dead' }];
const ended = (day: number, outcome: Outcome): Entries[number] => [at(day), { kind: 'outcome', outcome }];
const days = ({ earliestMs, latestMs }: { earliestMs: number | null; latestMs: number | null }) =>
  [earliestMs, latestMs].map((atMs) => (atMs === null ? null : (atMs - at(0)) / 86_400_000));

describe('the last egg and the loss', () => {
  it.each<
    readonly [
      name: string,
      log: Entries,
      egg: readonly number[],
      queenless: readonly number[],
      why: readonly string[],
    ]
  >([
    [
      'she died in her cage: as it was before her',
      [...cleanEntries, dead(9)],
      [0, 0],
      [0, 0],
      ['split made with the old queen seen in the parent colony'],
    ],
    [
      'she died outside, no egg seen: she may have laid until then, and ended no time without a queen',
      [...out, dead(15)],
      [0, 15],
      [0, 15],
      ['the introduction before ended then'],
    ],
    [
      'she laid by day 17, an egg of three and a half days at most, and was found missing on day 24',
      [...out, looked(17, { eggsSeen: true }), ended(24, 'queen-lost')],
      [13.5, 24],
      [10, 24],
      ['eggs of the queen that was lost', 'the introduction before ended then'],
    ],
    [
      'she died, and the outcome is logged days later: the later date bounds it',
      [...out, dead(15), ended(20, 'queen-killed')],
      [0, 20],
      [0, 20],
      ['the introduction before ended then'],
    ],
    ['nothing says how it ended: until now', out, [0, 30], [0, 30], ['the introduction before ended then']],
  ])('%s', (_, log, egg, queenless, restsOn) => {
    const carried = carryOver(stateAt(log, at(30)));
    expect([days(carried.lastFertileEgg), days(carried.queenlessSince)]).toEqual([egg, queenless]);
    expect(carried.lastFertileEgg.restsOn).toEqual(restsOn);
    expect(carried.queenlessSince.restsOn).toEqual(restsOn);
  });
});

describe('how it ended', () => {
  const nothing = [null, null];
  it.each<readonly [name: string, outcome: Outcome, earliestEggDay: number | null]>([
    ['she was accepted, and laid on', 'accepted', 13.5],
    ['her daughter took her place, and lays on', 'superseded', 13.5],
    ['the bees are in another colony', 'united', null],
    ['the bees left', 'absconded', null],
  ])('%s: nothing dates the last egg, nor the loss', (_, outcome, earliestEggDay) => {
    const log = [...out, looked(17, { eggsSeen: true }), ended(28, outcome)];
    const carried = carryOver(stateAt(log, at(60)));
    expect(days(carried.lastFertileEgg)).toEqual([earliestEggDay, null]);
    expect(days(carried.queenlessSince)).toEqual(nothing);
  });

  it('accepted, and nobody logged that she was let out: she is in it and lays', () => {
    const carried = carryOver(stateAt([...cleanEntries, ended(28, 'accepted')], at(60)));
    expect([days(carried.lastFertileEgg), days(carried.queenlessSince)]).toEqual([[0, null], nothing]);
    expect(carried.queenMayBeOut).toBe(true);
  });

  it('no sign of bees that are not in it any more goes with it, and signs of disease do', () => {
    const log: Entries = [
      ...out,
      [at(12), { kind: 'brood-disease', found: 'signs' }],
      [at(13), { kind: 'balled', rescued: false }],
      [at(24), facts.inspection({ youngestBrood: 'eggs', severalEggsACell: true })],
    ];
    const signs = (outcome: Outcome) => carryOver(stateAt([...log, ended(25, outcome)], at(30))).signs;
    expect(signs('united')).toEqual({ layingWorkers: null, balledAtMs: null, diseaseAtMs: at(12) });
    expect(signs('absconded')).toEqual({ layingWorkers: null, balledAtMs: null, diseaseAtMs: at(12) });
    expect(signs('given-up')).toMatchObject({
      layingWorkers: { what: 'several-eggs-a-cell' },
      balledAtMs: at(13),
      diseaseAtMs: at(12),
    });
  });
});

describe('whether its queen may be out', () => {
  it.each<readonly [name: string, log: Entries, mayBeOut: boolean]>([
    ['she died in her cage', [...cleanEntries, dead(9)], false],
    ['she was let out and is not found', [...out, looked(17, { queenSeen: false })], true],
    ['she was let out, and given up', [...out, ended(20, 'given-up')], true],
    ['she was let out, and lost', [...out, ended(20, 'queen-lost')], true],
    ['she was let out, and killed', [...out, ended(20, 'queen-killed')], false],
    ['she left with the swarm', [...out, ended(20, 'absconded')], false],
    ['the nuc was united', [...out, ended(20, 'united')], false],
    ['she was let out and lies dead', [...out, dead(15)], false],
    [
      'one was let out before her, who died in her cage',
      [...out, [at(20), facts.hung({ queenId: 'queen-two' })], dead(22)],
      true,
    ],
    [
      'one was let out before her, who was killed outside',
      [
        ...out,
        [at(20), facts.hung({ queenId: 'queen-two' })],
        [at(23), facts.opened()],
        ended(26, 'queen-killed'),
      ],
      true,
    ],
  ])('%s: %s', (_, log, mayBeOut) => {
    expect(carryOver(stateAt(log, at(30))).queenMayBeOut).toBe(mayBeOut);
  });
});

describe('one of two introductions before was let out, and never found', () => {
  const carried = carryOver(
    stateAt([...out, looked(17, { queenSeen: false }), ended(18, 'queen-lost')], at(18)),
  );
  const next = (log: Entries, startingPoint: StartingPoint = 'hopelessly-queenless') =>
    carryOver(stateAt(log, at(40), { startingPoint, openedAtMs: at(18), carried })).queenMayBeOut;
  const died: Entries = [[at(19), facts.hung({ queenId: 'queen-two' })], dead(21), ended(21, 'queen-lost')];
  const frame = (cellsOnIt: number): Entries => [
    [at(22), facts.broodAdded({ asTestFrame: true })],
    [at(24), facts.broodTaken({ cellsOnIt })],
  ];
  it.each<readonly [name: string, log: Entries, mayBeOut: boolean]>([
    ['the next one died in her cage: she may be out still', died, true],
    ['a frame had no cell', [...died.slice(0, 2), ...frame(0)], true],
    ['cells on a frame showed that she is gone', [...died.slice(0, 2), ...frame(3)], false],
    [
      'a queen that laid was found and taken away',
      [[at(19), { kind: 'queen-removed', which: 'young-queen' }], ...died],
      false,
    ],
  ])('%s', (_, log, mayBeOut) => {
    expect(next(log)).toBe(mayBeOut);
  });

  it('the bees of a split are others', () => {
    expect(next([[at(25), facts.split()]], 'planned-split')).toBe(false);
  });
});

it('signs of workers go with it, proved or not', () => {
  const workers = (...seen: Entries) =>
    carryOver(stateAt([...cleanEntries, ...seen, dead(12)], at(13))).signs?.layingWorkers?.what;
  expect(workers()).toBeUndefined();
  expect(workers([at(11), facts.inspection({ eggsStand: 'walls' })])).toBe('eggs-on-the-walls');
  expect(workers([at(11), facts.inspection({ droneBroodInWorkerCells: true })])).toBe(
    'drone-brood-in-worker-cells',
  );
});

describe('how the next one starts', () => {
  it.each<readonly [name: string, log: Entries, nowDay: number, start: string]>([
    ['larvae for a queen are left', [...cleanEntries.slice(0, 1), dead(5)], 6, 'queenless-with-cells'],
    ['no larva is young enough', [...cleanEntries, dead(11)], 12, 'hopelessly-queenless'],
    [
      'a cell was left standing',
      [...cleanEntries, [at(11), facts.inspection({ cells: cells({ sealed: 1 }) })], dead(11)],
      12,
      'queenless-with-cells',
    ],
    [
      'she laid',
      [...out, looked(17, { eggsSeen: true }), ended(50, 'queen-lost')],
      51,
      'queenless-with-cells',
    ],
    ['its bees were united with another colony', [...cleanEntries, ended(12, 'united')], 13, 'planned-split'],
    ['its bees left', [...out, ended(14, 'absconded')], 15, 'planned-split'],
    [
      'nobody knows when the last egg was laid',
      [[at(0), facts.split({ oldQueen: 'not-seen' })], dead(20)],
      21,
      'queenless-with-cells',
    ],
  ])('%s: %s', (_, log, nowDay, start) => {
    expect(nextStartingPoint(stateAt(log, at(nowDay)))).toBe(start);
  });
});
