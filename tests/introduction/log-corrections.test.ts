/** Corrections in the log: of facts, of corrections, into another introduction, and those that can't be. */
import { describe, expect, it } from 'vitest';
import { effectiveFacts } from '../../server/introduction/log/effective-facts.ts';
import type { Correction, FactPayload, LogEntry } from '../../server/introduction/log/facts.ts';
import { checkNewEntry } from '../../server/introduction/log/log-check.ts';
import { at, facts, logOf, setupOf } from './support/field-log.ts';

const now = at(20);
const log = logOf([
  [at(0), facts.split()],
  [at(7), facts.cut({ sealed: 4 })],
]);
const [split, cut] = log as [LogEntry, LogEntry];

const correction = (
  id: string,
  corrects: string,
  more: Partial<Correction> = {},
  writtenAtMs = at(8),
): LogEntry => ({
  id,
  introductionId: 'intro-one',
  type: 'correction',
  corrects,
  happenedAtMs: writtenAtMs,
  writtenAtMs,
  ...more,
});
const kinds = (entries: readonly LogEntry[]) =>
  effectiveFacts('intro-one', entries, now).map((f) => f.fact.kind);
const problems = (entry: LogEntry, before: readonly LogEntry[] = log) => {
  const check = checkNewEntry(setupOf(), before, entry, now);
  return check.ok ? [] : check.problems.map(({ name }) => name);
};

describe('a correction', () => {
  it('is itself corrected, or taken back', () => {
    const wrong = correction('corr-one', cut.id, { replacement: { kind: 'note' } }, at(8));
    const right = correction('corr-two', 'corr-one', { replacement: facts.hung() }, at(9));
    const back = correction('corr-two', 'corr-one', {}, at(9));
    expect(kinds([...log, wrong])).toEqual(['split-made', 'note']);
    expect(kinds([right, ...log, wrong])).toEqual(['split-made', 'cage-hung']);
    expect(kinds([...log, wrong, back])).toEqual(['split-made', 'cells-cut']);
  });

  it('adds to one before it: the time by one, the content by another', () => {
    const time = correction('corr-one', cut.id, { replacementHappenedAtMs: at(6) }, at(8));
    const content = correction('corr-two', cut.id, { replacement: facts.cut({ sealed: 5 }) }, at(9));
    const [, shaped] = effectiveFacts('intro-one', [...log, content, time], now);
    expect(shaped).toMatchObject({
      atMs: at(6),
      fact: { cells: { sealed: 5 } },
      correctedBy: ['corr-one', 'corr-two'],
    });
  });

  it('that goes in a circle ends nowhere, and hangs nothing', () => {
    const a = correction('corr-a', 'corr-b', { replacement: { kind: 'note' } }, at(8));
    const b = correction('corr-b', 'corr-a', { replacement: { kind: 'note' } }, at(9));
    expect(kinds([...log, a, b])).toEqual(['split-made', 'cells-cut']);
  });

  it('swaps two nucs that were mixed up in the log', () => {
    const other = logOf(
      [
        [at(0), facts.split()],
        [at(7), facts.cut({ sealed: 9 })],
      ],
      'intro-two',
    );
    const swapped: LogEntry[] = [
      ...log,
      ...other,
      correction('corr-one', cut.id, { moveTo: 'intro-two' }),
      { ...correction('corr-two', other[1]!.id, { moveTo: 'intro-one' }), introductionId: 'intro-two' },
    ];
    const cellsOf = (id: string) =>
      effectiveFacts(id, swapped, now).map(({ fact }) =>
        fact.kind === 'cells-cut' ? fact.cells.sealed : null,
      );
    expect(cellsOf('intro-one')).toEqual([null, 9]);
    expect(cellsOf('intro-two')).toEqual([null, 4]);
  });

  it('keeps who wrote and what was noted', () => {
    const signed: LogEntry = { ...cut, by: 'the helper', note: 'windy' };
    expect(effectiveFacts('intro-one', [split, signed], now)[1]).toMatchObject({
      by: 'the helper',
      note: 'windy',
    });
  });
});

describe('the check of a correction', () => {
  it.each([
    ['of nothing', correction('corr-one', 'no-such-fact'), 'corrects-unknown-fact'],
    ['that withdraws the split under other facts', correction('corr-one', split.id), 'split-is-needed'],
    ['into the future', correction('corr-one', cut.id, { replacementHappenedAtMs: at(25) }), 'in-the-future'],
    [
      'before the split',
      correction('corr-one', cut.id, { replacementHappenedAtMs: at(-1) }),
      'before-the-split',
    ],
    [
      'of the split to after what rests on it',
      correction('corr-one', split.id, { replacementHappenedAtMs: at(9) }),
      'before-the-split',
    ],
    [
      'with counts that can’t be',
      correction('corr-one', cut.id, { replacement: facts.cut({}, { youngLarvaInOpenCell: true }) }),
      'counts-cannot-be',
    ],
  ])('refuses one %s', (_what, entry, name) => {
    expect(problems(entry)).toContain(name);
  });

  it('takes back a split on which nothing rests, and one that is not what the introduction begins with', () => {
    const back = correction('corr-one', split.id);
    const alone = [split, ...logOf([[at(-1), facts.arrived()]]).map((e) => ({ ...e, id: 'the-arrival' }))];
    expect(problems(back, alone)).toEqual([]);
    expect(checkNewEntry(setupOf({ startingPoint: 'own-laying-queen' }), log, back, now)).toEqual({
      ok: true,
    });
    const noted = [...log, { ...logOf([[at(9), { kind: 'note' }]])[0]!, id: 'the-note' }];
    expect(problems(back, noted)).toEqual(['split-is-needed']);
  });

  it('corrects an entry of a log whose split is not written down', () => {
    const arrival = logOf([[at(1), facts.arrived()]]);
    const first = [...arrival, { ...cut, id: 'the-cut' }] as LogEntry[];
    const entry = correction('corr-one', 'the-cut', { replacement: { kind: 'note' } });
    expect(problems(entry, first)).toEqual([]);
    const hours = correction('corr-one', arrival[0]!.id, { replacementHappenedAtMs: at(2) });
    expect(problems(hours, first)).toEqual([]);
  });

  it('takes one that is right, withdraws a fact, and moves one away', () => {
    expect(problems(correction('corr-one', cut.id, { replacement: facts.cut({ sealed: 6 }) }))).toEqual([]);
    expect(problems(correction('corr-one', cut.id))).toEqual([]);
    expect(problems(correction('corr-one', cut.id, { moveTo: 'intro-two' }))).toEqual([]);
    const closed = [
      ...log,
      ...logOf([[at(12), { kind: 'outcome', outcome: 'given-up' }]]).map((e) => ({
        ...e,
        id: 'the-outcome',
      })),
    ];
    expect(
      problems(correction('corr-one', 'the-outcome', { replacementHappenedAtMs: at(13) }), closed),
    ).toEqual([]);
    const sameMinute = correction('corr-one', cut.id, { replacementHappenedAtMs: at(12) });
    expect(problems(sameMinute, closed)).toEqual([]);
  });
});

describe('the check of a fact', () => {
  const fact = (
    happenedAtMs: number,
    payload: Parameters<typeof facts.cut>[0] | null,
    over = {},
  ): LogEntry => ({
    id: 'new-entry',
    introductionId: 'intro-one',
    type: 'fact',
    happenedAtMs,
    writtenAtMs: happenedAtMs,
    fact: facts.cut(payload ?? {}),
    ...over,
  });

  it('takes a clock that is five minutes ahead, and no more', () => {
    expect(problems(fact(now + 5 * 60_000, {}))).toEqual([]);
    expect(problems(fact(now + 5 * 60_000 + 1, {}))).toEqual(['in-the-future']);
  });

  it('takes a split in the minute of what was done with it', () => {
    const look = { ...logOf([[at(0), facts.inspection()]])[0]!, id: 'the-look' };
    const made = { ...split, id: 'new-entry' };
    expect(problems(made, [look])).toEqual([]);
    expect(problems({ ...made, happenedAtMs: at(0) + 1 } as LogEntry, [look])).toEqual(['before-the-split']);
  });

  it('refuses what names another introduction, and eggs that were and were not seen', () => {
    expect(problems(fact(at(9), {}, { introductionId: 'intro-two' }))).toEqual(['other-introduction']);
    const looked = facts.looked({ eggsSeen: false, severalEggsACell: true });
    expect(problems(fact(at(9), {}, { fact: looked }))).toEqual(['counts-cannot-be']);
  });

  it.each<readonly [what: string, fact: FactPayload, fits: boolean]>([
    [
      'twelve frames of brood and stores',
      facts.split({ framesOfSealedBrood: 5, framesOfOpenBrood: 4, framesOfStores: 3 }),
      true,
    ],
    [
      'thirteen, more than a nuc holds',
      facts.split({ framesOfSealedBrood: 5, framesOfOpenBrood: 4, framesOfStores: 4 }),
      false,
    ],
    ['a young larva in one of the open cells', facts.cut({ open: 2 }, { youngLarvaInOpenCell: true }), true],
    [
      'a young larva in an open cell, and open cells not counted',
      { ...facts.cut({}, { youngLarvaInOpenCell: true }), cells: { sealed: 3 } } as FactPayload,
      false,
    ],
    ['no open cell', facts.cut({ sealed: 3 }), true],
    ['no egg', facts.looked({ eggsSeen: false }), true],
    ['no egg, and several in a cell', facts.looked({ eggsSeen: false, severalEggsACell: true }), false],
    ['no egg, and where it stood', facts.looked({ eggsSeen: false, eggsStand: 'bottom' }), false],
    [
      'eggs, several in a cell, on the bottom',
      facts.looked({ severalEggsACell: true, eggsStand: 'bottom' }),
      true,
    ],
    [
      'several eggs in a cell at a look through the frames',
      facts.inspection({ severalEggsACell: true, eggsStand: 'walls' }),
      true,
    ],
  ])('counts of one entry: %s', (_, payload, fits) => {
    const before = payload.kind === 'split-made' ? [] : log;
    expect(problems(fact(at(9), {}, { fact: payload }), before)).toEqual(fits ? [] : ['counts-cannot-be']);
  });

  it('says whether it is the hour or the day that lies ahead, and allows a clock five minutes fast', () => {
    const text = (ms: number) => {
      const check = checkNewEntry(setupOf(), log, fact(ms, {}), now);
      return check.ok ? null : check.problems[0].text;
    };
    expect(text(now + 60_000)).toBeNull();
    expect(text(now + 3_600_000)).toMatch(/^It lies in the future/);
    expect(text(at(22))).toMatch(/^Its day lies in the future/);
  });

  it('takes what was done in the minute of the split, and what was forgotten from before the outcome', () => {
    expect(problems(fact(at(0), {}))).toEqual([]);
    const closed = [
      ...log,
      { ...logOf([[at(12), { kind: 'outcome', outcome: 'accepted' }]])[0]!, id: 'the-outcome' },
    ];
    expect(problems(fact(at(11), {}), closed)).toEqual([]);
    expect(problems(fact(at(12), {}), closed)).toEqual(['introduction-closed']);
    expect(problems(fact(at(13), {}), closed)).toEqual(['introduction-closed']);
  });

  it('takes a forgotten split where all else in the nuc was done after it', () => {
    const later = logOf([
      [at(2), facts.inspection()],
      [at(7), facts.cut()],
    ]);
    const split = fact(at(0), {}, { fact: facts.split() });
    const check = checkNewEntry(setupOf({ startingPoint: 'queenless-with-cells' }), later, split, now);
    expect(check).toEqual({ ok: true });
  });

  it('takes one entry after another where no split is made', () => {
    const setup = setupOf({ startingPoint: 'queenless-with-cells' });
    const before = logOf([[at(1), facts.inspection()]]);
    expect(checkNewEntry(setup, before, fact(at(2), {}), now)).toEqual({ ok: true });
  });

  it('takes notes and grafts after the outcome, and a split before nothing but arrivals', () => {
    const closed = [
      ...log,
      ...logOf([[at(12), { kind: 'outcome', outcome: 'accepted' }]]).map((e) => ({
        ...e,
        id: 'the-outcome',
      })),
    ];
    expect(problems(fact(at(15), {}, { fact: { kind: 'grafted', larvae: 30 } }), closed)).toEqual([]);
    const early = logOf([[at(-2), facts.arrived()]]);
    expect(problems(fact(at(0), {}, { fact: facts.split() }), early)).toEqual([]);
    const foreign = logOf([[at(-2), facts.inspection()]]);
    expect(problems(fact(at(0), {}, { fact: facts.split() }), foreign)).toEqual(['before-the-split']);
    const check = checkNewEntry(setupOf({ startingPoint: 'hopelessly-queenless' }), [], fact(at(1), {}), now);
    expect(check.ok).toBe(true);
  });
});
