/**
 * What a nuc can do whose queen comes late, day by day. Common practice: split a week before she comes, cells of brood
 * that was given are cut 7 days later, workers may lay after 21 days without a queen, and two frames of bees keep her warm.
 */
import { describe, expect, it } from 'vitest';
import type { NucProjection } from '../../server/biology/nuc-population.ts';
import {
  canWait,
  comesMsOf,
  lateChoices,
  wantsQueen,
  type LateChoice,
} from '../../server/introduction/acts/days/late-queen.ts';
import { dayNumber } from '../../server/introduction/calendar.ts';
import { frame, split, type Entries, type Setup } from './support/conditions.ts';
import { at, facts, stateAt, zone } from './support/field-log.ts';

const clock = { timeZone: zone, visitHour: 10 };
const looked: Entries = [split, [at(7), facts.cut({ sealed: 8 })], [at(10), facts.cut()]];
const planned: Setup = { plannedSplitMs: at(3) };
const unknown: Setup = { startingPoint: 'queenless-with-cells' };
const nothingSeen: Entries = [[at(0), facts.inspection()]];
const dayOf = (ms: number | null): number | null => (ms === null ? null : dayNumber(at(0), ms, zone));

/** Bees by day; some 1,900 cover both sides of a deep comb (Burgett and Burikam 1985). */
const bees = (...days: readonly (readonly [day: number, bees: number])[]): NucProjection => {
  const all = days.map(([day, count]) => ({ day, bees: count, low: count, high: count }));
  return { days: all, trough: all.at(-1)! };
};

interface Row {
  readonly name: string;
  readonly log: Entries;
  readonly now: number;
  /** Null: none is on order. */
  readonly comes: number | null;
  readonly over?: Setup;
  /** Kind, whether it goes together with her day, and its day. */
  readonly choices: readonly (readonly [LateChoice['kind'], boolean, number | null])[];
  /** Words of the first of them. */
  readonly says?: string;
  readonly notSays?: string;
}

describe('what it can do', () => {
  it.each<Row>([
    // The split is still to be made.
    {
      name: 'the day of the split is today, and its hour is past: today',
      log: [],
      now: at(3, 12),
      comes: at(10),
      over: planned,
      choices: [['move-split', true, 3]],
      says: 'a week before she comes',
    },
    {
      name: 'and the day after: as soon as somebody can come',
      log: [],
      now: at(4, 12),
      comes: at(10),
      over: planned,
      choices: [['move-split', true, 5]],
      says: 'as soon as you can',
    },

    // It can wait for her.
    {
      name: 'nobody ever looked for cells: a virgin of one may be out before she comes',
      log: [split],
      now: at(3),
      comes: at(9),
      choices: [
        ['wait', true, 9],
        ['look-again', true, 9],
        ['test-frame', true, 7],
      ],
    },
    {
      name: 'eight days after the last look: a cell started since has had its time',
      log: looked,
      now: at(12),
      comes: at(18),
      choices: [
        ['wait', true, 18],
        ['look-again', true, 18],
        ['test-frame', true, 16],
      ],
    },
    {
      name: 'cells stood on a frame given since that look: no virgin was out, and another frame tells no more',
      log: [...looked, ...frame(12, 14, 3)],
      now: at(15),
      comes: at(19),
      choices: [
        ['wait', true, 19],
        ['look-again', true, 19],
      ],
    },
    {
      name: 'and on one that went in at that look',
      log: [...looked, ...frame(10, 12, 3)],
      now: at(15),
      comes: at(19),
      choices: [
        ['wait', true, 19],
        ['look-again', true, 19],
      ],
    },
    {
      name: 'cells on a frame before the last look say nothing of the days since',
      log: [split, [at(7), facts.cut({ sealed: 8 })], ...frame(7, 9, 3), [at(10), facts.cut()]],
      now: at(15),
      comes: at(19),
      choices: [
        ['wait', true, 19],
        ['look-again', true, 19],
        ['test-frame', true, 17],
      ],
    },
    {
      name: 'a frame since that look was out again after some hours',
      log: [
        ...looked,
        [at(12), facts.broodAdded({ asTestFrame: true })],
        [at(12, 20), facts.broodTaken({ cellsOnIt: 0 })],
      ],
      now: at(15),
      comes: at(19),
      choices: [
        ['wait', true, 19],
        ['look-again', true, 19],
        ['test-frame', true, 17],
      ],
    },
    {
      name: 'she comes as the 21 days are over',
      log: looked,
      now: at(20),
      comes: at(21),
      choices: [
        ['wait', true, 21],
        ['look-again', true, 21],
        ['test-frame', true, 20],
      ],
      says: 'It can wait for her: until 21 days without a queen',
    },

    // It can't.
    {
      name: 'brood given a week before she comes: its cells can just be cut',
      log: looked,
      now: at(16, 8),
      comes: at(23),
      choices: [
        ['wait', false, 21],
        ['brood-frame', true, 16],
        ['start-anew', true, 16],
      ],
      says: 'It can’t wait for her, only until 21 days without a queen',
    },
    {
      name: 'six days before she comes it is too late for that, and for a new split',
      log: looked,
      now: at(17, 8),
      comes: at(23),
      choices: [
        ['wait', false, 21],
        ['brood-frame', false, 17],
        ['start-anew', false, null],
      ],
    },
    {
      name: 'none is on order',
      log: looked,
      now: at(12),
      comes: null,
      choices: [
        ['wait', false, 21],
        ['brood-frame', true, 12],
        ['start-anew', true, null],
      ],
      says: 'Nobody knows when a queen comes. It can wait for one until 21 days without a queen: from then on workers may lay.',
    },
    {
      name: 'no bees are left: no brood is given to it, and nothing waits in it',
      log: [...looked, [at(11), facts.inspection({ framesOfBees: 0 })]],
      now: at(12),
      comes: at(16),
      choices: [['start-anew', true, null]],
      says: 'No bees are left',
    },
    {
      name: 'none is on order, and nothing tells since when it has none',
      log: nothingSeen,
      now: at(1),
      comes: null,
      over: unknown,
      choices: [
        ['wait', false, null],
        ['brood-frame', true, 1],
        ['start-anew', true, null],
      ],
      says: 'not known',
    },

    // No queen may go in.
    {
      name: 'workers lay in it: no brood is given to them, and no queen',
      log: [
        ...looked,
        ...[24, 26].map((day): Entries[number] => [
          at(day),
          facts.inspection({ youngestBrood: 'eggs', severalEggsACell: true, eggsStand: 'walls' }),
        ]),
      ],
      now: at(26, 12),
      comes: at(35),
      choices: [['start-anew', true, 28]],
      says: 'they kill a queen',
    },
    {
      name: 'a laying queen was seen in it: it is not united, and no brood goes in, before she is found',
      log: [...looked, [at(15), facts.inspection({ layingQueenSeen: true, youngestBrood: 'eggs' })]],
      now: at(15, 12),
      comes: at(30),
      choices: [['look-again', true, 16]],
      says: 'Find her and take her away',
    },
    {
      name: 'a virgin was seen in it',
      log: [...looked, [at(15), facts.inspection({ virginSeen: true, youngestBrood: 'sealed-only' })]],
      now: at(15, 12),
      comes: null,
      choices: [['look-again', true, 16]],
      says: 'Find her and take her away',
    },
    {
      name: 'one frame without a cell: what held the bees back is looked for',
      log: [...looked, ...frame(12, 14, 0)],
      now: at(14, 12),
      comes: at(18),
      choices: [['look-again', true, 15]],
      says: 'or let a test frame tell',
    },
    {
      name: 'two frames without a cell: a queen is in it that nobody found, and no box is set on another colony',
      log: [...looked, ...frame(12, 14, 0), ...frame(18, 20, 0)],
      now: at(20, 12),
      comes: at(24),
      choices: [['start-anew', true, null]],
      says: 'set no box on it',
      notSays: 'new split',
    },
  ])('$name', ({ log, now, comes, over, choices, says, notSays }) => {
    const told = lateChoices(stateAt(log, now, over), null, comes, clock);
    expect(told.map(({ kind, fits, atMs }) => [kind, fits, dayOf(atMs)])).toEqual(choices);
    if (says) expect(told[0]?.text).toContain(says);
    if (notSays) expect(told[0]?.text).not.toContain(notSays);
  });
});

describe('how long it can wait', () => {
  it.each<{
    readonly name: string;
    readonly projection: NucProjection | null;
    readonly until: number;
    readonly says: string;
  }>([
    { name: 'bees enough', projection: bees([12, 4200], [14, 4000]), until: 21, says: '21 days' },
    {
      name: 'too few in two days',
      projection: bees([12, 4000], [14, 2000]),
      until: 14,
      says: 'until day 14: then fewer than 2 frames',
    },
    {
      name: 'too few today',
      projection: bees([11, 4000], [12, 2000], [14, 1900]),
      until: 12,
      says: 'until day 12',
    },
    {
      name: 'too few for some days in between, which are over',
      projection: bees([5, 2000], [12, 4000], [16, 2000]),
      until: 16,
      says: 'until day 16',
    },
    { name: 'too few only after workers may lay', projection: bees([23, 2000]), until: 21, says: '21 days' },
  ])('$name: day $until', ({ projection, until, says }) => {
    const wait = canWait(stateAt(looked, at(12)), projection);
    expect(dayOf(wait?.untilMs ?? null)).toBe(until);
    expect(JSON.stringify(wait)).toContain(says);
  });
});

describe('a queen of its own', () => {
  it('is not wanted by a nuc that was given up', () => {
    const closed: Entries = [split, [at(5), { kind: 'outcome', outcome: 'given-up' }]];
    expect(wantsQueen(stateAt(closed, at(6)))).toBe(false);
  });

  it.each([
    { name: 'tomorrow', now: at(8, 20), comes: true },
    { name: 'today, and the hour of the post is past', now: at(9, 20), comes: true },
    { name: 'yesterday: she did not come', now: at(10, 1), comes: false },
  ])('is awaited: $name', ({ now, comes }) => {
    expect(comesMsOf(stateAt([split], now, { expectedQueenMs: at(9) }))).toBe(comes ? at(9) : null);
  });
});
