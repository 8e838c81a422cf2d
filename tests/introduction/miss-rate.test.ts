/** What earlier second looks say about this farm's eye, and what that does to the gate. */
import { describe, expect, it } from 'vitest';
import { noEvidence } from '../../server/introduction/acts/gate.ts';
import { mayOpenCandy } from './support/gates.ts';
import { farmsMissRate, looksEvidence } from '../../server/introduction/miss-rate.ts';
import type { MissRate } from '../../server/introduction/log/setup.ts';
import { missRateFrom, widePrior } from '../../server/introduction/cells/standing-cells.ts';
import { at, cleanEntries, facts, stateAt } from './support/field-log.ts';

const looks = (first: number, second: number, complete = true) =>
  stateAt(
    [
      [at(0), facts.split()],
      [at(7), facts.cut({ sealed: first })],
      [at(10), facts.cut({ sealed: second }, { beesShakenOff: complete })],
    ],
    at(10, 11),
  );
const learnt = (nucs: number, first: number, second: number): MissRate =>
  farmsMissRate(Array.from({ length: nucs }, () => looksEvidence(looks(first, second))!))!;
const mean = ({ alpha, beta }: MissRate): number => alpha / (alpha + beta);
const sd = ({ alpha, beta }: MissRate): number =>
  Math.sqrt((alpha * beta) / ((alpha + beta) ** 2 * (alpha + beta + 1)));

describe('the farm’s eye', () => {
  it('is learnt from what later looks found', () => {
    expect(mean(learnt(8, 12, 0))).toBeLessThan(0.03);
    expect(mean(learnt(8, 12, 4))).toBeGreaterThan(0.15);
    expect(learnt(8, 12, 0).learntFrom).toBe(8);
  });

  it('narrows with each nuc, and never counts as proven', () => {
    const spreads = [1, 4, 16, 60].map((nucs) => sd(learnt(nucs, 12, 1)));
    expect(spreads).toEqual(spreads.toSorted((a, b) => b - a));
    const { alpha, beta } = learnt(200, 15, 0);
    expect(alpha + beta).toBeLessThanOrEqual(200 + 1e-6);
    expect(Number.isFinite(alpha) && alpha > 0).toBe(true);
  });

  it('does not depend on the order of the nucs, and without any is the prior', () => {
    const some = [looks(12, 0), looks(3, 3), looks(9, 1)].map((state) => looksEvidence(state)!);
    const [one, other] = [farmsMissRate(some)!, farmsMissRate(some.toReversed())!];
    expect(other.alpha).toBeCloseTo(one.alpha, 9);
    expect(other.beta).toBeCloseTo(one.beta, 9);
    expect(farmsMissRate([])).toBeUndefined();
    const none = missRateFrom(widePrior, []);
    // The prior itself, by way of the grid and as the beta of the same mean and variance.
    expect(mean(none)).toBeCloseTo(mean(widePrior), 2);
    expect(sd(none)).toBeCloseTo(sd(widePrior), 2);
  });

  it('learns nothing where nobody looked twice completely, or the days are not known', () => {
    expect(looksEvidence(looks(12, 4, false))).toBeNull();
    expect(looksEvidence(stateAt(cleanEntries.slice(0, 2), at(8)))).toBeNull();
    const undated = stateAt(
      [
        [at(7), facts.cut({ sealed: 3 })],
        [at(10), facts.cut()],
      ],
      at(11),
      {
        startingPoint: 'queenless-with-cells',
      },
    );
    expect(looksEvidence(undated)).toBeNull();
  });

  it('moves the chance at the gate, which says what it rests on', () => {
    const gate = (missRate?: MissRate) =>
      mayOpenCandy(stateAt(cleanEntries, at(10, 12), missRate ? { missRate } : {}), noEvidence, at(10, 12));
    const [sharp, usual, careless] = [gate(learnt(10, 12, 0)), gate(), gate(learnt(10, 12, 3))];
    expect(sharp.chanceOfStandingCell!).toBeLessThan(usual.chanceOfStandingCell!);
    expect(usual.chanceOfStandingCell!).toBeLessThan(careless.chanceOfStandingCell!);
    expect([usual.answer, careless.answer]).toEqual(['go', 'wait']);
    expect(careless.headline).toBe('One more look first');
    const figure = careless.reasons.find((reason) => reason.figure?.name.includes('on this farm'))!.figure!;
    expect(figure.source).toBe('second looks in 10 earlier nucs of this farm, from a wide prior of 0.09');
    expect(usual.reasons.some((reason) => reason.figure?.name.includes('on this farm'))).toBe(false);
  });
});
