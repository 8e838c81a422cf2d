/** What the next introduction in the same nuc starts from: the last egg and the time without a queen, in days after the split. */
import { describe, expect, it } from 'vitest';
import { carryOver, nextStartingPoint } from '../../server/introduction/carry-over.ts';
import type { FactPayload } from '../../server/introduction/log/facts.ts';
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
