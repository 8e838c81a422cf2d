/** The plan of queens and the gate of each nuc agree: who is served may hang her, if need be after a look. Common practice. */
import { describe, expect, it } from 'vitest';
import { answerFor } from '../../server/introduction/acts/answer.ts';
import { lateChoices } from '../../server/introduction/acts/days/late-queen.ts';
import { dayNumber } from '../../server/introduction/calendar.ts';
import type { FactPayload } from '../../server/introduction/log/facts.ts';
import { shareQueens, waitingNuc } from '../../server/introduction/plan/share-queens.ts';
import type { IntroductionSetup } from '../../server/introduction/state.ts';
import { at, facts, stateAt, zone } from './support/field-log.ts';

type Entries = readonly (readonly [number, FactPayload])[];
const clock = { timeZone: zone, visitHour: 10 };
const hopeless: Partial<IntroductionSetup> = { startingPoint: 'hopelessly-queenless', openedAtMs: at(0) };
const found: Entries = [[at(0), facts.inspection({ youngestBrood: 'none' })]];
const cutTwice: Entries = [
  [at(0), facts.split()],
  [at(7), facts.cut({ sealed: 8 })],
  [at(10), facts.cut()],
];

const waiting = (log: Entries, nowMs: number, setup: Partial<IntroductionSetup> = {}, nucId = 'nuc') =>
  waitingNuc(stateAt(log, nowMs, { ...setup, nucId }), null, clock);

interface Row {
  readonly name: string;
  readonly log: Entries;
  readonly now: number;
  readonly setup?: Partial<IntroductionSetup>;
  /** May she be hung now? */
  readonly gate: 'go' | 'wait' | 'stop';
  readonly served: boolean;
}

describe('a nuc that wants a queen who comes in two days', () => {
  it.each<Row>([
    {
      name: 'hopeless, looked through today',
      log: found,
      now: at(0, 12),
      setup: hopeless,
      gate: 'go',
      served: true,
    },
    {
      name: 'hopeless, last look ten days ago',
      log: found,
      now: at(10),
      setup: hopeless,
      gate: 'wait',
      served: true,
    },
    { name: 'split three weeks ago, no look since', log: cutTwice, now: at(22), gate: 'wait', served: true },
    {
      name: 'split three weeks ago, looked through today',
      log: [...cutTwice, [at(22), facts.inspection({ youngestBrood: 'none' })]],
      now: at(22, 12),
      gate: 'go',
      served: true,
    },
    {
      name: 'workers lay in it',
      log: [...found, [at(2), facts.inspection({ droneBroodInWorkerCells: true })]],
      now: at(2, 12),
      setup: hopeless,
      gate: 'stop',
      served: false,
    },
  ])('$name', ({ log, now, setup = {}, gate, served }) => {
    const state = stateAt(log, now, setup);
    expect(answerFor(state).permissionOf('hang-cage').answer).toBe(gate);
    const nuc = waiting(log, now, setup);
    const shared = shareQueens(nuc ? [nuc] : [], [{ queenId: 'one', fromMs: now + 2 * 24 * 3_600_000 }]);
    expect(shared.pairs).toHaveLength(served ? 1 : 0);
  });

  it('is served first where workers may lay already: a look that finds them gives the queen to the next', () => {
    const first = waiting(found, at(10), hopeless, 'hopeless');
    const next = waiting(cutTwice, at(12), {}, 'split');
    const { pairs, nucsWithout } = shareQueens([next!, first!], [{ queenId: 'one', fromMs: at(12) }]);
    expect(pairs).toMatchObject([
      { nucId: 'hopeless', why: 'workers may lay in it already: look for them first' },
    ]);
    expect(nucsWithout).toMatchObject([{ nucId: 'split', tooLate: false }]);
  });

  it('gives the queen to another one first where a virgin was seen', () => {
    const virgin: Entries = [
      [at(0), facts.split()],
      [at(9), facts.cut({ sealed: 4, emerged: 1 }, { virginSeen: true })],
    ];
    const nucs = [waiting(virgin, at(10), {}, 'virgin')!, waiting(cutTwice, at(11), {}, 'split')!];
    const unsplit = waiting([], at(10), { plannedSplitMs: at(12) }, 'unsplit')!;
    const queens = ['a', 'b', 'c'].map((queenId) => ({ queenId, fromMs: at(12) }));
    const { pairs } = shareQueens([unsplit, ...nucs], queens);
    expect(pairs.map(({ nucId }) => nucId)).toEqual(['split', 'virgin', 'unsplit']);
    expect(pairs[1]?.why).toBe('a queen may be in it: it comes after those that surely have none');
    expect(shareQueens(nucs, [queens[0]!]).nucsWithout).toMatchObject([{ nucId: 'virgin', tooLate: false }]);
  });
});

it('what a nuc can do in which workers may lay: a look while she comes soon, else open brood or a new beginning', () => {
  const state = stateAt(found, at(10), hopeless);
  const choices = (comesMs: number | null) =>
    lateChoices(state, null, comesMs, clock).map(({ kind, fits, atMs }) => [
      kind,
      fits,
      atMs === null ? null : dayNumber(at(0), atMs, zone),
    ]);
  expect(choices(at(13))).toEqual([
    ['wait', true, 13],
    ['look-again', true, 13],
    ['test-frame', true, 11],
  ]);
  expect(choices(at(17))).toEqual([
    ['wait', false, 10],
    ['brood-frame', true, 10],
    ['start-anew', true, 10],
  ]);
  expect(choices(null).slice(0, 2)).toEqual([
    ['wait', false, 10],
    ['brood-frame', true, 10],
  ]);
  expect(lateChoices(state, null, at(13), clock)[0]?.text).toContain('workers may lay already');
});

it('a queen that was let out before, and nobody found, is looked for before another one goes in', () => {
  const log: Entries = [
    ...cutTwice,
    [at(10, 11), facts.hung()],
    [at(11, 12), facts.opened()],
    [at(19), facts.looked({ queenSeen: false, eggsSeen: false })],
    [at(20), facts.arrived({ queenId: 'next', condition: 'dead' })],
  ];
  const state = stateAt(log, at(20, 12));
  expect(answerFor(state).permissionOf('hang-cage').answer).toBe('stop');
  expect(waiting(log, at(20, 12))).toMatchObject({ limit: 'queen-may-be-in' });
  expect(lateChoices(state, null, at(22), clock)).toMatchObject([{ kind: 'look-again' }]);
});
