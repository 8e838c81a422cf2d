/** A queen that comes late, too few queens, too many: what each nuc can do, and which is served first. */
import { describe, expect, it } from 'vitest';
import { answerFor } from '../../server/introduction/acts/answer.ts';
import { dayNumber } from '../../server/introduction/calendar.ts';
import { lateChoices, queenIsLate, wantsQueen } from '../../server/introduction/acts/days/late-queen.ts';
import { shareQueens, waitingNuc, type WaitingNuc } from '../../server/introduction/plan/share-queens.ts';
import { stepState } from '../../server/views/plan/plan-steps.ts';
import { at, cleanEntries, facts, stateAt, zone } from './support/field-log.ts';

type Entries = Parameters<typeof stateAt>[0];
const clock = { timeZone: zone, visitHour: 10 };
const dayOf = (ms: number | null): number | null => (ms === null ? null : dayNumber(at(0), ms, zone));
const split: Entries = [[at(0), facts.split()]];
const looked: Entries = [...split, [at(7), facts.cut({ sealed: 8 })], [at(10), facts.cut()]];
const choices = (entries: Entries, nowMs: number, comesMs: number | null, setup = {}, few = false) => {
  const day = (n: number, bees: number) => ({ day: n, bees, low: bees, high: bees });
  const projection = few ? { days: [day(12, 4000), day(14, 2000)], trough: day(14, 2000) } : null;
  return lateChoices(stateAt(entries, nowMs, setup), projection, comesMs, clock).map((one) => [
    one.kind,
    one.fits,
    dayOf(one.atMs),
  ]);
};

describe('a queen that comes late', () => {
  it('is late after the day of the first cut, and only to a nuc that wants one', () => {
    expect(queenIsLate(stateAt(split, at(3)), at(8))).toBe(false);
    expect(queenIsLate(stateAt(split, at(3)), at(9))).toBe(true);
    expect(queenIsLate(stateAt(split, at(8)), null)).toBe(false);
    expect(queenIsLate(stateAt(split, at(9)), null)).toBe(true);
    expect(queenIsLate(stateAt(cleanEntries, at(9)), at(12)), 'she hangs already').toBe(false);
    expect(queenIsLate(stateAt([], at(9)), at(12)), 'not split').toBe(false);
  });

  it('is wanted where none came, or the one that came is dead, let out or not', () => {
    expect(wantsQueen(stateAt(split, at(3)))).toBe(true);
    expect(wantsQueen(stateAt([...split, [at(7), facts.arrived({ condition: 'dead' })]], at(8)))).toBe(true);
    expect(wantsQueen(stateAt([...split, [at(7), facts.arrived()]], at(8)))).toBe(false);
    const letOut: Entries = [...cleanEntries, [at(10, 11), facts.opened()]];
    expect(wantsQueen(stateAt(letOut, at(13)))).toBe(false);
    expect(wantsQueen(stateAt([...letOut, [at(12), { kind: 'queen-dead' }]], at(13)))).toBe(true);
  });

  it.each([12, 17, 22])('sends nobody to hang her before she comes: at %d o’clock of any day', (hour) => {
    for (const day of [8, 9, 10, 11, 14, 16]) {
      const nowMs = at(day, hour);
      const entries = looked.filter(([atMs]) => atMs <= nowMs);
      const { plan } = answerFor(stateAt(entries, nowMs, { expectedQueenMs: at(7, 12) }));
      const due = plan.filter((step) => ['due', 'overdue'].includes(stepState(step, nowMs)));
      expect(
        due.map(({ kind }) => kind),
        `day ${String(day)}`,
      ).not.toContain('hang-cage');
    }
  });

  it('moves the split where none was made', () => {
    const planned = { plannedSplitMs: at(0) };
    expect(choices([], at(-5), at(10), planned)).toEqual([['move-split', true, 3]]);
    expect(choices([], at(5), at(10), planned), 'the week has begun').toEqual([['move-split', true, 5]]);
    expect(choices([], at(-5), null, planned)).toEqual([['move-split', true, null]]);
  });

  it('leaves the old queen in a colony that is requeened in place, and makes no split of one’s own before its queen', () => {
    const inPlace = { startingPoint: 'requeened-in-place' } as const;
    expect(choices([], at(-5), at(10), inPlace)).toEqual([['move-split', true, 3]]);
    expect(choices([], at(5), at(10), inPlace), 'the week has begun').toEqual([['move-split', true, 5]]);
    expect(choices([], at(-5), null, inPlace)).toEqual([['move-split', true, null]]);
    const own = { startingPoint: 'own-laying-queen', plannedSplitMs: at(0) } as const;
    expect(choices([], at(-5), at(10), own)).toEqual([['move-split', true, 9]]);
    const said = (setup: object, comesMs: number | null) =>
      lateChoices(stateAt([], at(-5), setup), null, comesMs, clock).map(({ text }) => text);
    expect(said(inPlace, at(10))).toEqual([
      'Take the old queen out a week before she comes: nothing is lost by waiting.',
    ]);
    expect(said(inPlace, null)).toEqual([
      'Leave the old queen in it until a queen is on order: nothing is lost by waiting.',
    ]);
    expect(said(own, at(10))).toEqual([
      'Make the split the day before she comes: nothing is lost by waiting.',
    ]);
  });

  it('waits while it can, with another look before she hangs and a test frame after a long wait', () => {
    expect(choices(looked, at(12), at(15))).toEqual([
      ['wait', true, 15],
      ['look-again', true, 15],
    ]);
    // More than the shortest time from a cell's start to a virgin since the last complete look.
    expect(choices(looked, at(12), at(19))).toEqual([
      ['wait', true, 19],
      ['look-again', true, 19],
      ['test-frame', true, 17],
    ]);
  });

  it('asks for a test frame at once where a virgin may be loose already', () => {
    const lateCut: Entries = [...split, [at(12), facts.cut({ sealed: 2 })]];
    expect(choices(lateCut, at(13), at(14))).toContainEqual(['test-frame', true, 13]);
  });

  it('can’t wait beyond the day on which workers may lay: brood, or begin anew', () => {
    expect(choices(looked, at(12), at(24))).toEqual([
      ['wait', false, 21],
      ['brood-frame', true, 12],
      ['start-anew', true, 17],
    ]);
  });

  it('says that brood given now is too late for a queen within the week, and a new split as well', () => {
    expect(choices(looked, at(20), at(22))).toEqual([
      ['wait', false, 21],
      ['brood-frame', false, 20],
      ['start-anew', false, null],
    ]);
  });

  it('gives sealed brood where the bees become too few', () => {
    expect(choices(looked, at(12), at(16), {}, true)).toEqual([
      ['wait', false, 14],
      ['sealed-brood', true, 12],
      ['brood-frame', false, 12],
      ['start-anew', false, null],
    ]);
  });

  it('has an answer where no queen is on order, and none where none is wanted', () => {
    expect(choices(looked, at(12), null).map(([kind]) => kind)).toEqual([
      'wait',
      'brood-frame',
      'start-anew',
    ]);
    expect(choices(cleanEntries, at(9), at(12))).toEqual([]);
  });

  it('has the inspector called first where signs of brood disease are logged', () => {
    const sick: Entries = [...looked, [at(11), { kind: 'brood-disease', found: 'signs' }]];
    const found = lateChoices(stateAt(sick, at(12), {}), null, at(24), clock);
    expect(found.map(({ text }) => text)).toEqual([expect.stringContaining('call the bee inspector')]);
  });

  it('says so where nothing tells since when the nuc is queenless', () => {
    const found: Entries = [[at(0), facts.inspection({ youngestBrood: 'not-looked' })]];
    const [first] = lateChoices(
      stateAt(found, at(1), { startingPoint: 'queenless-with-cells' }),
      null,
      at(5),
      clock,
    );
    expect(first).toMatchObject({ kind: 'wait', fits: true });
    expect(first!.text).toContain('not known');
  });
});

describe('queens shared out', () => {
  const nuc = (nucId: string, waitsUntil: number, limit: WaitingNuc['limit'] = 'laying-workers') => ({
    nucId,
    readyFromMs: at(7),
    waitsUntilMs: waitsUntil === Infinity ? Infinity : at(waitsUntil),
    limit,
  });
  const queen = (queenId: string, day: number) => ({ queenId, fromMs: at(day) });

  it('gives the first queen to the nuc that can wait least, and says who goes without', () => {
    const shared = shareQueens(
      [nuc('patient', 25), nuc('pressed', 12), nuc('too-late', 8)],
      [queen('second', 11), queen('first', 9)],
    );
    expect(shared.pairs.map(({ nucId, queenId, why }) => [nucId, queenId, why])).toEqual([
      ['pressed', 'first', 'of those that wait, workers may lay in it first'],
      ['patient', 'second', 'of those that wait, workers may lay in it first'],
    ]);
    expect(shared.nucsWithout).toEqual([
      { nucId: 'too-late', why: 'the queens come after the day until which it can wait', tooLate: true },
    ]);
  });

  it('serves the nuc of unknown date first, those not split last', () => {
    const shared = shareQueens(
      [
        nuc('unsplit', Infinity, 'not-split'),
        nuc('weak', 12, 'too-few-bees'),
        nuc('unknown', Infinity, 'not-known'),
      ],
      [queen('a', 9), queen('b', 9)],
    );
    expect(shared.pairs.map(({ nucId }) => nucId)).toEqual(['unknown', 'weak']);
    const unknownFirst = [nuc('unknown', Infinity, 'not-known'), nuc('weak', 12, 'too-few-bees')];
    expect(shareQueens(unknownFirst, [queen('a', 9)]).pairs[0]?.nucId).toBe('unknown');
    expect(shared.nucsWithout).toMatchObject([
      {
        nucId: 'unsplit',
        why: 'there are fewer queens than nucs, and the others can wait less long',
        tooLate: false,
      },
    ]);
  });

  it('serves a nuc with its old queen in it after those that have none', () => {
    const shared = shareQueens(
      [nuc('in-place', Infinity, 'old-queen-in-it'), nuc('dated', 20)],
      [queen('a', 9), queen('b', 9), queen('c', 9)],
    );
    expect(shared.pairs.map(({ nucId }) => nucId)).toEqual(['dated', 'in-place']);
    const two = shareQueens(
      [nuc('in-place', Infinity, 'old-queen-in-it'), nuc('unsplit', Infinity, 'not-split')],
      [queen('a', 9)],
    );
    expect(two.pairs.map(({ why }) => why)).toEqual([
      'its old queen is still in it, so it comes after those that have none',
    ]);
  });

  it('serves those not split in the order of their splits, and the weakest of those with a date first', () => {
    const unsplit = (nucId: string, day: number) => ({
      ...nuc(nucId, Infinity, 'not-split'),
      readyFromMs: at(day),
    });
    const queens = ['a', 'b', 'c'].map((queenId) => queen(queenId, 3));
    const shared = shareQueens([unsplit('later', 9), unsplit('sooner', 8), nuc('dated', 20)], queens);
    expect(shared.pairs.map(({ nucId, queenId }) => `${queenId} to ${nucId}`)).toEqual([
      'a to dated',
      'b to sooner',
      'c to later',
    ]);
    // Neither limit nor day of readiness is the same, so nobody says that any may be first.
    expect(shared.pairs[1]?.why).toBe('it is not split yet, so it comes after those that are');
  });

  it('does not call two nucs alike whose limits differ, nor two of which nothing is known', () => {
    const why = (...nucs: Parameters<typeof shareQueens>[0]) =>
      shareQueens(nucs, [queen('x', 8)]).pairs[0]?.why;
    expect(why(nuc('a', 20), nuc('b', 20, 'too-few-bees'))).toBe(
      'of those that wait, workers may lay in it first',
    );
    expect(why(nuc('a', Infinity, 'not-known'), nuc('b', Infinity, 'not-known'))).toBe(
      'nothing tells since when it is queenless, so it comes first',
    );
    const alike = 'it can wait as long as others, so any of them may be first';
    expect(why(nuc('a', 20), nuc('b', 20), nuc('longer', 25))).toBe(alike);
  });

  it('takes a queen that comes at the last instant at which a nuc can wait, whatever order queens are given in', () => {
    const last = shareQueens([nuc('a', 12)], [queen('on-the-day', 12)]);
    expect(last.pairs).toMatchObject([{ nucId: 'a', queenId: 'on-the-day' }]);
    const two = shareQueens([nuc('a', 12), nuc('b', 13)], [queen('y', 9), queen('x', 9)]);
    expect(two.pairs.map(({ queenId }) => queenId)).toEqual(['x', 'y']);
    const without = shareQueens([nuc('a', 12), nuc('b', 12)], [queen('on-the-day', 12)]).nucsWithout;
    const fewer = 'there are fewer queens than nucs, and the others can wait less long';
    expect(without).toEqual([{ nucId: 'b', why: fewer, tooLate: false }]);
  });

  it('says that any may be first where all can wait alike', () => {
    const { pairs } = shareQueens([nuc('a', 20), nuc('b', 20)], [queen('x', 8), queen('y', 8)]);
    expect(pairs.map(({ why }) => why)).toEqual([
      'it can wait as long as others, so any of them may be first',
      'it is the last that waits',
    ]);
  });

  it('keeps the second of two queens for one nuc, and hangs none before the nuc is ready', () => {
    const shared = shareQueens([nuc('a', 12)], [queen('early', 3), queen('spare', 3)]);
    expect(shared.pairs).toMatchObject([{ nucId: 'a', queenId: 'early', hangFromMs: at(7) }]);
    expect(shared.queensOver).toEqual(['spare']);
    expect(shareQueens([nuc('a', 12)], []).nucsWithout).toMatchObject([
      { nucId: 'a', why: 'no queen is left for it' },
    ]);
  });

  it('gives no queen to a nuc with signs of brood disease, and says why', () => {
    const shared = shareQueens(
      [nuc('sick', Infinity, 'disease'), nuc('well', 12)],
      [queen('a', 9), queen('b', 9)],
    );
    expect(shared.pairs).toMatchObject([{ nucId: 'well', why: 'it is the last that waits' }]);
    expect(shared.queensOver).toEqual(['b']);
    expect(shared.nucsWithout).toEqual([
      {
        nucId: 'sick',
        why: 'signs of brood disease are logged, and no queen comes in before they are ruled out',
        tooLate: false,
      },
    ]);
  });

  it.each([
    ['workers-lay', 'workers lay in it, and they kill a queen'],
    ['to-be-united', 'a queen is in it that nobody found: another one would be killed'],
  ] as const)('gives no queen to a nuc where she would be killed: %s', (limit, why) => {
    const shared = shareQueens([nuc('bad', Infinity, limit), nuc('well', 12)], [queen('a', 9)]);
    expect(shared.pairs).toMatchObject([{ nucId: 'well' }]);
    expect(shared.nucsWithout).toEqual([{ nucId: 'bad', why, tooLate: false }]);
  });

  it('reads from the log what limits a nuc', () => {
    const read = (...args: Parameters<typeof stateAt>) => waitingNuc(stateAt(...args), null, clock);
    expect(read(split, at(3))).toMatchObject({ limit: 'laying-workers', waitsUntilMs: at(21) });
    expect(read([], at(-3), { plannedSplitMs: at(0) })).toMatchObject({
      limit: 'not-split',
      waitsUntilMs: Infinity,
      readyFromMs: at(0, 0),
    });
    expect(read([], at(-3), { plannedSplitMs: at(0), startingPoint: 'own-laying-queen' })).toMatchObject({
      limit: 'not-split',
    });
    const inPlace = { plannedSplitMs: at(0), startingPoint: 'requeened-in-place' } as const;
    expect(read([], at(-3), inPlace)).toMatchObject({ limit: 'old-queen-in-it', waitsUntilMs: Infinity });
    const taken: Entries = [[at(0), { kind: 'queen-removed', which: 'old-queen' }]];
    expect(read(taken, at(1), inPlace)).toMatchObject({ limit: 'laying-workers', waitsUntilMs: at(21) });
    const signs: Parameters<typeof stateAt>[0][number] = [at(2), { kind: 'brood-disease', found: 'signs' }];
    expect(read([...split, signs], at(3))).toMatchObject({ limit: 'disease', waitsUntilMs: Infinity });
    const lay = facts.inspection({ youngestBrood: 'eggs', droneBroodInWorkerCells: true });
    expect(read([...split, [at(24), lay]], at(25))).toMatchObject({
      limit: 'workers-lay',
      waitsUntilMs: Infinity,
    });
    const noCells = [10, 18].flatMap((day): Parameters<typeof stateAt>[0][number][] => [
      [at(day), facts.broodAdded({ asTestFrame: true })],
      [at(day + 2), facts.broodTaken({ cellsOnIt: 0 })],
    ]);
    expect(read([...split, ...noCells], at(21))).toMatchObject({ limit: 'to-be-united' });
    const found: Parameters<typeof stateAt>[0] = [[at(0), facts.inspection({ youngestBrood: 'not-looked' })]];
    const unknown = { startingPoint: 'queenless-with-cells', plannedSplitMs: at(0) } as const;
    expect(read(found, at(1), unknown)).toMatchObject({ limit: 'not-known', waitsUntilMs: Infinity });
    expect(read(cleanEntries, at(9)), 'she hangs').toBeNull();
    expect(read([], at(-3)), 'no date').toBeNull();
  });
});
