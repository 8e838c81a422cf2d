/**
 * What is asked for where the chance of a standing cell is over the limit: one more look, a correction of what was not
 * written down, a test frame. Chances are held against each other and against the same log written otherwise.
 */
import { describe, expect, it } from 'vitest';
import { missedCellShare } from '../../server/biology/figures.ts';
import {
  missedCellsCondition,
  type MissedCells,
} from '../../server/introduction/acts/missed-cells-condition.ts';
import type { FactPayload } from '../../server/introduction/log/facts.ts';
import type { IntroductionSetup } from '../../server/introduction/log/setup.ts';
import { chanceInWords } from '../../server/words/chance.ts';
import { at, facts, stateAt } from './support/field-log.ts';

type Entries = readonly (readonly [number, FactPayload])[];

const split = [at(0), facts.split()] as const;
const first = [at(7), facts.cut({ sealed: 8 })] as const;
const found = (sealed: number): Entries => [split, first, [at(10), facts.cut({ sealed })]];
const clean = found(0);

function sureOf(
  log: Entries,
  nowMs: number,
  limit?: number | null,
  over: Partial<IntroductionSetup> = {},
): MissedCells {
  const sure = missedCellsCondition(stateAt(log, nowMs, over), limit, nowMs);
  if (!sure) throw new Error('the looks that count are not made');
  return sure;
}
const metBy = ({ condition }: MissedCells) => condition.unmet?.metBy;
const text = ({ condition }: MissedCells) => condition.reason.text;

describe('the look that is asked for', () => {
  it('is none while the days decide, nor where the chance is small enough', () => {
    expect(missedCellsCondition(stateAt([split, first], at(9)), 0.05, at(9))).toBeNull();
    const sure = sureOf(clean, at(10, 12));
    expect([metBy(sure), sure.oneMoreLook]).toEqual([undefined, null]);
    expect(text(sure)).toContain('the last look found 0');
  });

  it('is made from the next day on, and until then the answer waits for that day', () => {
    const sure = sureOf(found(1), at(10, 12));
    expect(metBy(sure)).toEqual({ first: 'one-more-look', fromMs: at(11, 0), untilMs: at(11, 0) });
    expect(sure.oneMoreLook?.fromMs).toBe(at(11, 0));
    expect(metBy(sureOf(found(1), at(11, 9)))).toEqual({ first: 'one-more-look' });
  });

  it('tells less the later it is made, for a virgin may be out by then, and is reckoned for today', () => {
    const chanceOn = (day: number) => sureOf(found(1), at(day)).oneMoreLook!.chanceIfNothingFound;
    expect(chanceOn(13)).toBeGreaterThan(chanceOn(12));
    expect(chanceOn(12)).toBeGreaterThan(chanceOn(11));
  });

  it('settles it at a limit that it comes under, and not at one that it stays over', () => {
    const { chance, oneMoreLook } = sureOf(found(3), at(11));
    const then = oneMoreLook!.chanceIfNothingFound;
    expect(then).toBeLessThan(chance);
    const wide = sureOf(found(3), at(11), then * 1.05);
    expect([wide.settledBy?.(at(11)), wide.testFrame]).toEqual([true, undefined]);
    const narrow = sureOf(found(3), at(11), then * 0.95);
    expect(narrow.settledBy?.(at(11))).toBe(false);
    expect(narrow.condition.unmet?.headline).toBe('One more look first');
  });

  it('is a test frame where three clean looks would not do', () => {
    const sure = sureOf(found(1), at(11), 0.001);
    expect([sure.testFrame, sure.oneMoreLook, metBy(sure)]).toEqual([true, null, { first: 'test-frame-in' }]);
    expect(text(sure)).not.toContain('Swarm cells');
    const swarm = facts.split({ cellsAlreadyThere: 'present-and-removed' });
    expect(text(sureOf([[at(0), swarm], first, [at(10), facts.cut()]], at(11)))).toContain(
      'Swarm cells stood',
    );
  });

  it('goes with a frame that came out after the last look, and not with one before it', () => {
    const withFrame = (inDay: number): Entries => [
      ...found(1),
      [at(inDay), facts.broodAdded({ asTestFrame: true })],
      [at(inDay + 2), facts.broodTaken({ cellsOnIt: 3 })],
    ];
    const after = sureOf(withFrame(10), at(12, 12), 0.001);
    expect(after.condition.unmet?.headline).toBe('One more look first');
    const before = sureOf(withFrame(7), at(11), 0.001);
    expect(before.condition.unmet?.headline).toBe('A test frame first');
  });

  it('never reads as its limit where it is not at it', () => {
    const { chance } = sureOf(found(1), at(11));
    expect(text(sureOf(found(1), at(11), chance * 0.9999))).toContain(
      `was missed: just over ${chanceInWords(chance)} (the last look found 1); over ${chanceInWords(chance)}.`,
    );
    expect(text(sureOf(found(1), at(11), chance * 1.0001))).toContain(
      `was missed: just under ${chanceInWords(chance)} (`,
    );
  });

  it('names the setting that can’t be read', () => {
    expect(metBy(sureOf(clean, at(11), null))).toEqual({ setting: 'standingCellLimit' });
  });
});

describe('what was not written down of the last look', () => {
  const cut = (over: Partial<Extract<FactPayload, { kind: 'cells-cut' }>>): FactPayload => {
    const { virginSeen, ...fact } = facts.cut() as Extract<FactPayload, { kind: 'cells-cut' }>;
    void virginSeen;
    return { ...fact, ...over };
  };
  const none = { open: 0, sealed: 0 };
  const last = (fact: FactPayload): Entries => [
    split,
    first,
    [at(9), facts.cut({ sealed: 1 })],
    [at(12), fact],
  ];
  const whole = sureOf(last(cut({ cells: { ...none, emerged: 0 }, virginSeen: false })), at(13), 0);

  it.each<readonly [string, Partial<Extract<FactPayload, { kind: 'cells-cut' }>>]>([
    ['neither shells nor a virgin', { cells: none }],
    ['no shells', { cells: none, virginSeen: false }],
    ['no virgin', { cells: { ...none, emerged: 0 } }],
  ])(
    '%s: to correct the entry is told where that brings it under the limit, with the chance it comes to',
    (_, over) => {
      const log = last(cut(over));
      const { chance } = sureOf(log, at(13), 0);
      expect(chance).toBeGreaterThan(whole.chance);
      const between = sureOf(log, at(13), (chance + whole.chance) / 2);
      expect(text(between)).toContain(`correct the entry: then it is ${chanceInWords(whole.chance)}.`);
      const { chanceIfNothingFound } = between.oneMoreLook!;
      const under = sureOf(log, at(13), Math.max(chanceIfNothingFound * 1.01, whole.chance * 0.9));
      expect(text(under)).toContain('One more look on every frame');
      expect(text(under)).not.toContain('correct the entry');
    },
  );

  it('all written down: there is nothing to correct', () => {
    expect(text(sureOf(found(1), at(11)))).not.toContain('correct the entry');
  });
});

describe('the share of cells that a look misses', () => {
  const figure = (missRate?: IntroductionSetup['missRate']) =>
    sureOf(clean, at(11), 0.05, missRate && { missRate }).condition.reason.figure;

  it('is the published one until the farm’s own looks tell', () => {
    expect(figure()).toMatchObject({ value: missedCellShare.value, source: missedCellShare.source });
    expect(figure({ alpha: 3, beta: 27 })).toMatchObject({ value: missedCellShare.value });
  });

  it('is the mean of the farm’s own, to a tenth of a per cent, with the nucs that it was learnt from', () => {
    expect(figure({ alpha: 3, beta: 27, learntFrom: 1 })).toMatchObject({
      value: 0.1,
      name: expect.stringContaining('on this farm') as string,
      source: expect.stringContaining('1 earlier nuc of') as string,
    });
    expect(figure({ alpha: 1, beta: 6, learntFrom: 4 })).toMatchObject({
      value: 0.143,
      source: expect.stringContaining('4 earlier nucs of') as string,
    });
  });
});
