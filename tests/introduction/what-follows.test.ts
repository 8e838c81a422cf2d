/** Around an introduction: queens shared out, a late queen, the next attempt, a graft, entries that can't be. */
import { describe, expect, it } from 'vitest';
import { logEntrySchema, type FactPayload } from '../../server/introduction/log/facts.ts';
import { graftDates } from '../../server/introduction/after-acceptance.ts';
import { calendarFeed } from '../../server/introduction/plan/calendar-feed.ts';
import { isoDate } from '../../server/introduction/calendar.ts';
import { nextStartingPoint } from '../../server/introduction/carry-over.ts';
import { canWait } from '../../server/introduction/acts/days/late-queen.ts';
import { checkNewEntry } from '../../server/introduction/log/log-check.ts';
import { planIntroduction } from '../../server/introduction/plan/plan.ts';
import { at, cells, cleanEntries, facts, logOf, setupOf, stateAt, zone } from './support/field-log.ts';

const iso = (ms: number): string => isoDate(ms, zone);

describe('queens and nucs', () => {
  it('says until when a queenless nuc can wait for a late queen', () => {
    const wait = canWait(stateAt([[at(0), facts.split()]], at(10)), null);
    expect(wait).toMatchObject({ because: 'laying-workers' });
    // 21 days without a queen: J. Apic. Res. study, seen quoted; common practice.
    expect(iso(wait!.untilMs)).toBe(iso(at(21)));
  });

  it('leads a failed introduction into the next with what is left in the nuc', () => {
    const lost = (day: number) =>
      stateAt(
        [...cleanEntries, [at(10, 10.5), facts.opened()], [at(day, 9), { kind: 'queen-dead' }]],
        at(day),
      );
    expect(nextStartingPoint(lost(14))).toBe('hopelessly-queenless');
    expect(nextStartingPoint(stateAt([[at(0), facts.split()]], at(3)))).toBe('queenless-with-cells');
  });
});

it('dates a graft from the age of its larvae', () => {
  const dates = graftDates(at(40), zone);
  expect(dates.map(({ id }) => id)).toEqual(['grafted', 'graft-sealed', 'graft-move-by', 'graft-emerge']);
  // Common practice: virgins emerge twelve days after the graft.
  expect(iso(dates.at(-1)!.atMs)).toBe(iso(at(52)));
});

describe('entries that can’t be', () => {
  const log = logOf([[at(0), facts.split()]]);
  const entry = (atMs: number, fact: FactPayload, id = 'new-entry-1') =>
    ({
      id,
      introductionId: 'intro-one',
      type: 'fact',
      happenedAtMs: atMs,
      writtenAtMs: atMs,
      fact,
    }) as (typeof log)[number];
  const names = (...args: Parameters<typeof checkNewEntry>) => {
    const check = checkNewEntry(...args);
    return check.ok ? [] : check.problems.map(({ name }) => name);
  };

  it.each([
    { what: 'before the split', before: log, added: entry(at(-1), facts.cut()), name: 'before-the-split' },
    { what: 'in the future', before: log, added: entry(at(9), facts.cut()), name: 'in-the-future' },
    {
      what: 'by a clock that was never set',
      before: [],
      added: entry(Date.UTC(1970, 0, 2), facts.split()),
      name: 'too-long-ago',
    },
    { what: 'a second split', before: log, added: entry(at(2), facts.split()), name: 'second-split' },
    { what: 'without its split', before: [], added: entry(at(2), facts.cut()), name: 'split-not-logged' },
    {
      what: 'more frames than a nuc holds',
      before: [],
      added: entry(at(1), facts.split({ framesOfSealedBrood: 12, framesOfOpenBrood: 4 })),
      name: 'counts-cannot-be',
    },
    {
      what: 'a split without bees',
      before: [],
      added: entry(at(1), facts.split({ framesOfBees: 0 })),
      name: 'counts-cannot-be',
    },
    {
      what: 'after its outcome',
      before: logOf([
        [at(0), facts.split()],
        [at(3), { kind: 'outcome', outcome: 'given-up' }],
      ]),
      added: entry(at(4), facts.cut()),
      name: 'introduction-closed',
    },
  ] as const)('$what', ({ before, added, name }) => {
    expect(names(setupOf(), before, added, at(5))).toContain(name);
  });

  it('takes the same entry twice, and another under its name not', () => {
    const [first] = log;
    expect(names(setupOf(), log, first!, at(5))).toEqual([]);
    expect(names(setupOf(), log, entry(at(0), facts.cut(), first!.id), at(5))).toEqual([
      'same-id-other-content',
    ]);
  });

  it('names a missing statement about the old queen, and takes nothing half-written', () => {
    const { oldQueen: _left, ...fact } = facts.split() as { oldQueen: string };
    const read = logEntrySchema.safeParse(entry(at(0), fact as never));
    expect(read.error?.issues).toMatchObject([{ message: expect.stringContaining('old queen') as string }]);
  });

  it.each([-9_007_199_254_740_991, -1, Date.UTC(2200, 0, 1) + 1, 9_007_199_254_740_991])(
    'takes no time of which there is no calendar: %d',
    (ms) => {
      for (const time of [{ happenedAtMs: ms }, { writtenAtMs: ms }])
        expect(logEntrySchema.safeParse({ ...entry(at(0), facts.cut()), ...time }).success).toBe(false);
      const moved = { type: 'correction', corrects: 'entry-one', replacementHappenedAtMs: ms };
      expect(logEntrySchema.safeParse({ ...entry(at(0), facts.cut()), ...moved }).success).toBe(false);
    },
  );

  it('counts what cannot be negative', () => {
    const counted = { ...facts.cut(), cells: cells({ open: -1 }) };
    expect(logEntrySchema.safeParse(entry(at(2), counted as never)).success).toBe(false);
  });
});

it('keeps a calendar event’s identity when its date moves (RFC 5545: UID, SEQUENCE, 75 octets a line)', () => {
  const feed = (nowMs: number, revision: number) =>
    calendarFeed(
      planIntroduction(stateAt([[at(0), facts.split()]], nowMs)).map((step) => ({
        step,
        nucName: 'Nuc ä',
        siteName: 'Field',
        revision,
      })),
      {
        name: 'Nucs',
        display: { timeZone: zone, temperature: 'C', weight: 'kg' },
        nowMs,
        uidDomain: 'welcomb.local',
      },
    );
  const uids = (text: string) => [...text.matchAll(/^UID:(.*)$/gm)].map(([, uid]) => uid);
  const before = feed(at(1), 1);
  const after = feed(at(8), 2);
  expect(uids(after)).toEqual(uids(before));
  expect(after).toContain('SEQUENCE:2');
  for (const line of before.split('\r\n')) expect(Buffer.byteLength(line)).toBeLessThanOrEqual(75);
});
