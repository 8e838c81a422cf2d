/** The order in which a log counts: of one visit, of what was written at once, of corrections on corrections. */
import { describe, expect, it } from 'vitest';
import { effectiveFacts } from '../../server/introduction/log/effective-facts.ts';
import type { Correction, FactPayload, LogEntry } from '../../server/introduction/log/facts.ts';
import { at, facts, logOf } from './support/field-log.ts';

const kinds = (log: readonly LogEntry[], nowMs = at(20)) =>
  effectiveFacts('intro-one', log, nowMs).map(({ fact }) => fact.kind);

/** As they are done at the hive. */
const visit: readonly FactPayload[] = [
  facts.split(),
  { kind: 'moved', metres: 10 },
  facts.arrived(),
  facts.broodTaken({ cellsOnIt: 0 }),
  { kind: 'queen-removed', which: 'old-queen' },
  facts.inspection(),
  facts.cut(),
  facts.looked(),
  { kind: 'queen-removed', which: 'virgin' },
  { kind: 'balled', rescued: true },
  { kind: 'queen-dead' },
  facts.broodAdded(),
  { kind: 'fed', feed: 'syrup', kilograms: 1 },
  facts.atCage(),
  { kind: 'cage-taken-out', queen: 'in-the-cage' },
  { kind: 'queen-escaped', to: 'into-the-nuc' },
  facts.hung(),
  { kind: 'gate-overridden', gate: 'open-candy', reason: 'no other day' },
  facts.opened(),
  { kind: 'grafted', larvae: 20 },
  { kind: 'brood-disease', found: 'signs' },
  { kind: 'note' },
  { kind: 'outcome', outcome: 'given-up' },
];

describe('facts of one minute', () => {
  it('count as they are done at the hive, whatever was written first', () => {
    const written = logOf(visit.toReversed().map((fact) => [at(7), fact]));
    expect(effectiveFacts('intro-one', written, at(7)).map(({ fact }) => fact)).toEqual(visit);
  });

  it('of one kind count by their ids', () => {
    const [first, second] = logOf([
      [at(7), facts.cut({ sealed: 1 })],
      [at(7), facts.cut({ sealed: 2 })],
    ]) as [LogEntry, LogEntry];
    const ids = [first.id, second.id];
    for (const log of [
      [first, second],
      [second, first],
    ])
      expect(effectiveFacts('intro-one', log, at(7)).map(({ id }) => id)).toEqual(ids);
  });

  it('count from their minute on', () => {
    const log = logOf([[at(7), facts.cut()]]);
    expect([kinds(log, at(7) - 1), kinds(log, at(7))]).toEqual([[], ['cells-cut']]);
  });

  it('say who wrote them only where somebody did', () => {
    const [told] = effectiveFacts('intro-one', logOf([[at(7), facts.cut()]]), at(7));
    expect(Object.keys(told!)).toEqual(['id', 'atMs', 'writtenAtMs', 'fact', 'correctedBy']);
  });
});

describe('corrections', () => {
  const [cut] = logOf([[at(7), facts.cut()]]) as [LogEntry];
  const correction = (
    id: string,
    corrects: string,
    day: number,
    more: Partial<Correction> = {},
  ): LogEntry => ({
    id,
    introductionId: 'intro-one',
    type: 'correction',
    corrects,
    happenedAtMs: at(day),
    writtenAtMs: at(day),
    ...more,
  });
  const note: Partial<Correction> = { replacement: { kind: 'note' } };
  const hung: Partial<Correction> = { replacement: facts.hung() };

  it.each<{ readonly name: string; readonly log: readonly LogEntry[]; readonly is: readonly string[] }>([
    {
      name: 'of one minute count by their ids',
      log: [correction('b', cut.id, 8, hung), correction('a', cut.id, 8, note)],
      is: ['cage-hung'],
    },
    {
      name: 'of one minute, the other way round',
      log: [correction('b', cut.id, 8, note), correction('a', cut.id, 8, hung)],
      is: ['note'],
    },
    {
      name: 'the last written counts, whatever its id is',
      log: [correction('a', cut.id, 9, hung), correction('b', cut.id, 8, note)],
      is: ['cage-hung'],
    },
    {
      name: 'one that is taken back counts no more',
      log: [correction('a', cut.id, 8, note), correction('b', 'a', 9)],
      is: ['cells-cut'],
    },
    {
      name: 'one whose taking back is taken back counts again',
      log: [correction('a', cut.id, 8, note), correction('b', 'a', 9), correction('c', 'b', 10)],
      is: ['note'],
    },
    {
      name: 'and four deep it does not',
      log: [
        correction('a', cut.id, 8, note),
        correction('b', 'a', 9),
        correction('c', 'b', 10),
        correction('d', 'c', 11),
      ],
      is: ['cells-cut'],
    },
    {
      name: 'one in the place of another',
      log: [correction('a', cut.id, 8, note), correction('b', 'a', 9, hung)],
      is: ['cage-hung'],
    },
    {
      name: 'and that one taken back: the first counts again',
      log: [correction('a', cut.id, 8, note), correction('b', 'a', 9, hung), correction('c', 'b', 10)],
      is: ['note'],
    },
  ])('$name', ({ log, is }) => {
    expect(kinds([cut, ...log])).toEqual(is);
    expect(kinds([...log.toReversed(), cut])).toEqual(is);
  });
});
