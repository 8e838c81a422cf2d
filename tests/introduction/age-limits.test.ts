/**
 * The gates at the edges of their days and ages: a minute before, and from then on. Calendar days are the keeper's
 * (common practice: cut on 7, look again on 10, keep hands off for 3 full days and better 7); ages are of brood (egg
 * 3 to 3.5 d, Mussen et al. 1987; a larva is young enough for a queen up to 4 d, Fell and Morse 1984).
 */
import { describe, expect, it } from 'vitest';
import { mayCutCells, mayHangCage, mayLookForQueen, mayOpenCandy } from './support/gates.ts';
import { noEvidence } from '../../server/introduction/acts/gate.ts';
import { at, cleanEntries, facts, setupOf, logOf } from './support/field-log.ts';
import { foldIntroduction } from '../../server/introduction/state.ts';

type Entries = Parameters<typeof logOf>[0];
const minute = 60_000;
const hours = 3_600_000;

/** Summer time begins on day 2 of the first (28 March 2027) and ends on day 5 of the second (31 October 2027). */
const seasons = [
  ['an ordinary week', 'Europe/Berlin', '2027-05-01'],
  ['the week summer time begins', 'Europe/Berlin', '2027-03-26'],
  ['the week summer time ends', 'Europe/Berlin', '2027-10-26'],
  ['half an hour’s change', 'Australia/Lord_Howe', '2027-03-30'],
] as const;

describe.each(seasons)('in %s', (_name, zone, day0) => {
  const on = (day: number, hour = 10): number => at(day, hour, zone, day0);
  const split: Entries = [[on(0), facts.split()]];
  const ask = (may: typeof mayOpenCandy, entries: Entries, nowMs: number, setup = {}) =>
    may(foldIntroduction(setupOf({ timeZone: zone, ...setup }), logOf(entries), nowMs), noEvidence, nowMs);
  const looseAt = (entries: Entries, nowMs: number) =>
    foldIntroduction(setupOf({ timeZone: zone }), logOf(entries), nowMs).virgin.loose;
  /** Answers a minute before the edge, and at it. */
  const about = (may: typeof mayOpenCandy, entries: Entries, edgeMs: number, setup = {}) =>
    [edgeMs - minute, edgeMs].map((nowMs) => ask(may, entries, nowMs, setup).answer);
  const cutAndHung = (day: number, hour = 10): Entries => [
    ...split,
    [on(3), facts.hung()],
    [on(day, hour), facts.cut({ sealed: 8 })],
  ];

  it('cells may be cut from the first minute of day 7', () => {
    expect(about(mayCutCells, split, on(7, 0))).toEqual(['wait', 'go']);
  });

  it('a cut on the last minute of day 6 is not the one that counts; from midnight on it is', () => {
    const then = (atMs: number): Entries => [
      ...split,
      [on(3), facts.hung()],
      [atMs, facts.cut({ sealed: 8 })],
    ];
    const looked = (atMs: number): Entries => [...then(atMs), [on(10), facts.cut()]];
    // On a farm whose looks miss few cells the days alone decide.
    const setup = { missRate: { alpha: 2, beta: 38, learntFrom: 6 } };
    expect(ask(mayOpenCandy, looked(on(7, 0) - minute), on(10, 11), setup).answer).toBe('wait');
    expect(ask(mayOpenCandy, looked(on(7, 0)), on(10, 11), setup).answer).toBe('go');
  });

  it('the second look counts from two calendar days after the first on', () => {
    const looked = (atMs: number): Entries => [...cutAndHung(7), [atMs, facts.cut()]];
    expect(ask(mayOpenCandy, looked(on(9, 0) - minute), on(10)).answer).toBe('wait');
    expect(ask(mayOpenCandy, looked(on(9, 0)), on(10)).answer).toBe('go');
  });

  it('a virgin may be loose from 8½ days of 24 hours after the split on, where no look came before', () => {
    const emerges = on(0) + 8.5 * 24 * hours;
    expect([emerges - minute, emerges].map((nowMs) => looseAt(split, nowMs))).toEqual([
      'excluded',
      'possible',
    ]);
  });

  it('eggs are the old queen’s up to 3½ days of 24 hours after the split, and speak against it after', () => {
    const seen = (atMs: number): Entries => [...split, [atMs, facts.inspection({ youngestBrood: 'eggs' })]];
    const edge = on(0) + 3.5 * 24 * hours;
    expect(ask(mayHangCage, seen(edge - minute), edge).answer).toBe('go');
    expect(ask(mayHangCage, seen(edge + minute), edge + minute)).toMatchObject({
      answer: 'stop',
      headline: 'A queen may be in the box',
    });
  });

  it('the candy end may be opened once she has hung for 24 hours', () => {
    const hung: Entries = [...split, [on(7), facts.cut({ sealed: 8 })], [on(10), facts.cut()]];
    const caged: Entries = [...hung, [on(10, 10.5), facts.hung()]];
    expect(about(mayOpenCandy, caged, on(10, 10.5) + 24 * hours)).toEqual(['wait', 'go']);
  });

  it('a mesh may be lifted from the first minute of the third day after it was pressed in', () => {
    const under: Entries = [
      ...split,
      [on(7), facts.cut({ sealed: 8 })],
      [on(8, 20), facts.hung()],
      [on(10), facts.cut()],
    ];
    expect(about(mayOpenCandy, under, on(11, 0), { method: 'push-in-cage' })).toEqual(['wait', 'go']);
  });

  it('hands are off for three days of candy and three full days by the clock on the wall, better until the seventh day begins', () => {
    const usual: Entries = [...cutAndHung(7), [on(10), facts.cut()], [on(10, 11), facts.opened()]];
    expect(about(mayLookForQueen, usual, on(16, 11))).toEqual(['stop', 'wait']);
    expect(about(mayLookForQueen, usual, on(17, 0))).toEqual(['wait', 'go']);
  });

  it('laying workers are looked for from 21 days of 24 hours without a queen on', () => {
    const late: Entries = [
      ...split,
      [on(7), facts.cut({ sealed: 8 })],
      [on(10), facts.cut()],
      [on(17), facts.hung()],
    ];
    const edge = on(0) + 21 * 24 * hours;
    expect(about(mayOpenCandy, late, edge)).toEqual(['go', 'wait']);
    expect(ask(mayOpenCandy, late, edge).headline).toBe('Look for laying workers first');
  });
});

describe('what contradicts a date', () => {
  const ask = (may: typeof mayOpenCandy, entries: Entries, nowMs: number) =>
    may(foldIntroduction(setupOf(), logOf(entries), nowMs), noEvidence, nowMs);

  it('does not bring the cut that counts forward: eggs out of time on day 4 leave it on day 7', () => {
    const eggs: Entries = [
      [at(0), facts.split()],
      [at(4), facts.inspection({ youngestBrood: 'eggs', everyFrameChecked: false })],
    ];
    expect(ask(mayCutCells, eggs, at(4, 11))).toMatchObject({ answer: 'wait', untilMs: at(7, 0) });
    expect(ask(mayCutCells, eggs, at(7, 0)).answer).toBe('go');
  });

  it('does not take back a virgin that was seen: the shell that she left is no sign that she is gone', () => {
    const seen: Entries = [...cleanEntries.slice(0, 2), [at(9), facts.inspection({ virginSeen: true })]];
    const shell: Entries = [
      ...seen,
      [at(10), facts.inspection({ cells: { open: 0, sealed: 0, emerged: 1, tornDown: 0 } })],
    ];
    for (const entries of [seen, shell]) {
      expect(ask(mayHangCage, entries, at(10, 11))).toMatchObject({
        answer: 'stop',
        headline: 'A virgin is in the box',
      });
    }
  });
});
