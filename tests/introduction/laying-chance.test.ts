/** The chance that workers lay: what looks and time do to it, on random looks. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { layingWorkersLikelyDays, layingWorkersWatchDays } from '../../server/biology/figures.ts';
import type { FactPayload } from '../../server/introduction/log/facts.ts';
import { layingWorkersChance } from '../../server/introduction/brood/laying-chance.ts';
import { foldIntroduction } from '../../server/introduction/state.ts';
import { at, facts, logOf, setupOf } from './support/field-log.ts';

const noEgg = facts.inspection({ youngestBrood: 'none' });

type Diary = readonly (readonly [atMs: number, fact: FactPayload])[];

function chance(diary: Diary, nowMs: number): number {
  const log = logOf([[at(0), facts.split()], ...diary]);
  return layingWorkersChance(foldIntroduction(setupOf(), log, nowMs), nowMs) ?? NaN;
}

const looksOn = (days: readonly number[]): Diary =>
  [...new Set(days)].sort((a, b) => a - b).map((day) => [at(day), noEgg] as const);

describe('the chance that workers lay', () => {
  it('is none while they are not watched for, and a half on the day on which it is likely', () => {
    expect(chance([], at(layingWorkersWatchDays.value))).toBe(0);
    expect(chance([], at(layingWorkersLikelyDays.value))).toBeCloseTo(0.5, 1);
  });

  it('grows with every day, until a caged queen hangs among the bees', () => {
    const hung: Diary = [[at(26), facts.hung()]];
    expect(chance(hung, at(34))).toBeCloseTo(chance([], at(26)), 6);
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 40 }), fc.integer({ min: 0, max: 10 }), (day, more) => {
        expect(chance([], at(day + more))).toBeGreaterThanOrEqual(chance([], at(day)));
      }),
    );
  });

  it('falls with every look that finds no egg, and stays between 0 and 1', () => {
    const days = fc.array(fc.integer({ min: 21, max: 39 }), { maxLength: 4 });
    fc.assert(
      fc.property(days, fc.integer({ min: 21, max: 39 }), (before, day) => {
        const [without, withIt] = [before, [...before, day]].map((all) => chance(looksOn(all), at(40)));
        expect(withIt).toBeLessThanOrEqual((without ?? 0) + 1e-9);
        expect(withIt).toBeGreaterThanOrEqual(0);
        expect(without).toBeLessThanOrEqual(1);
      }),
    );
  });

  it('is not changed by a second look the same day, nor by one that left frames out', () => {
    const once = chance(looksOn([30]), at(31));
    expect(chance([...looksOn([30]), [at(30, 15), noEgg]], at(31))).toBeCloseTo(once, 6);
    const some = facts.inspection({ youngestBrood: 'none', everyFrameChecked: false });
    expect(chance([...looksOn([30]), [at(30, 15), some]], at(31))).toBeCloseTo(once, 6);
  });

  it('is settled by no look that did not say where eggs stand', () => {
    const eggs = facts.inspection({ youngestBrood: 'eggs' });
    const under = facts.inspection({ youngestBrood: 'eggs', eggsOutsideMesh: false });
    const mesh = setupOf({ startingPoint: 'hopelessly-queenless', method: 'push-in-cage' });
    const after = (look: FactPayload): number => {
      const log = logOf([
        [at(0), noEgg],
        [at(1), facts.arrived()],
        [at(1, 11), facts.hung()],
        [at(5), look],
      ]);
      return layingWorkersChance(foldIntroduction(mesh, log, at(6)), at(6)) ?? NaN;
    };
    expect(after(under)).toBeLessThan(after(eggs) / 5);
  });
});
