/** State and plan asked for at one instant after another are those that are worked out anew at each. */
import { describe, expect, it } from 'vitest';
import { planIntroduction, type PlanOptions } from '../../server/introduction/plan/plan.ts';
import { foldIntroduction, type IntroductionSetup } from '../../server/introduction/state.ts';
import { at, cleanEntries, facts, logOf, setupOf } from './support/field-log.ts';
import { sized } from '../support/size.ts';

type Entries = Parameters<typeof logOf>[0];
const minuteMs = 60_000;

const late: Entries = [
  [at(0), facts.split()],
  [at(9), facts.cut({ sealed: 9 })],
  [at(12), facts.cut({ sealed: 2 })],
];
const failed: Entries = [
  ...cleanEntries,
  [at(10, 11), facts.opened()],
  [at(17), facts.looked({ queenSeen: false, eggsSeen: false })],
];
const cases: readonly {
  name: string;
  entries: Entries;
  over: Partial<IntroductionSetup>;
  options: PlanOptions;
}[] = [
  { name: 'a clean introduction', entries: cleanEntries, over: {}, options: {} },
  {
    name: 'one released and looked at',
    entries: failed,
    over: {},
    options: { unavailable: ['2027-05-18', '2027-05-24'] },
  },
  {
    name: 'a late cut without a cage',
    entries: late,
    over: {},
    options: { unavailable: ['2027-05-13'], chanceLimit: 0.001 },
  },
  { name: 'a split not made yet', entries: [], over: { plannedSplitMs: at(2) }, options: {} },
  {
    name: 'a queen that is on her way',
    entries: [],
    over: { startingPoint: 'queenless-with-cells', expectedQueenMs: at(7, 9) },
    options: {},
  },
  {
    name: 'an own queen',
    entries: [
      [at(0), facts.split()],
      [at(1), facts.hung()],
    ],
    over: { startingPoint: 'own-laying-queen' },
    options: {},
  },
  {
    name: 'no split for a planned one',
    entries: [[at(1), facts.arrived()]],
    over: { expectedQueenMs: at(3, 9) },
    options: {},
  },
];

describe('one log folded and planned again and again', () => {
  it.each(cases)('$name', ({ entries, over, options }) => {
    const setup = setupOf(over);
    const log = logOf(entries);
    for (let nowMs = at(-3); nowMs < at(24); nowMs += sized(397, 97) * minuteMs) {
      const state = foldIntroduction(setup, log, nowMs);
      const anew = foldIntroduction({ ...setup }, [...log], nowMs);
      expect(state).toEqual(anew);
      expect(planIntroduction(state, options)).toEqual(planIntroduction(anew, { ...options }));
    }
  });

  it('follows an entry that is added, and a look back', () => {
    const setup = setupOf();
    const log = logOf(cleanEntries.slice(0, 1));
    expect(foldIntroduction(setup, log, at(8)).looks.all).toHaveLength(0);
    log.push(...logOf(cleanEntries).slice(1));
    expect(foldIntroduction(setup, log, at(8)).looks.all).toHaveLength(1);
    expect(foldIntroduction(setup, log, at(6)).looks.all).toHaveLength(0);
    const early = planIntroduction(foldIntroduction(setup, log, at(6)));
    expect(planIntroduction(foldIntroduction(setup, log, at(6, 23)))).toEqual(early);
    expect(planIntroduction(foldIntroduction(setup, log, at(8)))).not.toEqual(early);
  });
});
