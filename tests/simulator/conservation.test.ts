/** Nothing appears or disappears in a simulated nuc: every gram and every bee is accounted for. */
import { describe, expect, it } from 'vitest';
import { simulateNuc, scenarioNames, minuteOf } from '../../simulator/index.ts';
import { balanceG } from '../../simulator/ledger.ts';

describe('mass', () => {
  it.each(scenarioNames)('is what the account explains, to a hundredth of a gram: %s', (scenario) => {
    const { truth, parameters } = simulateNuc({ seed: 11, scenario, days: 20 });
    const last = truth.minutes - 1;
    const afield = (i: number) => truth.beesOut[i]! * parameters.bodyG;
    const startG = (truth.boxMassG[0] ?? 0) + afield(0);
    const endG = (truth.boxMassG[last] ?? 0) + afield(last);
    // The first minute is in both; what it moved is under the tolerance only if counted, so start before it.
    const firstMinuteG = Math.abs(endG - startG - balanceG(truth.ledger));
    expect(firstMinuteG).toBeLessThan(1);
  });
});

describe('old foragers', () => {
  it('leave, all of them in time, and their mass is the sum of their own', () => {
    const { truth } = simulateNuc({ seed: 5 });
    const last = truth.minutes - 1;
    expect(truth.driftedBees[last]).toBe(truth.willDriftBees);
    expect(truth.driftedMassG[last]).toBeCloseTo(truth.willDriftMassG, 6);
    expect(truth.willDriftMassG / truth.willDriftBees).toBeGreaterThan(truth.bodyG * 0.97);
  });
});

describe('happenings show in the truth', () => {
  it('an absconding takes nearly all bees within the hour', () => {
    const { truth } = simulateNuc({ seed: 3, scenario: 'absconded' });
    const event = truth.events.find((e) => e.kind === 'absconded')!;
    const before = truth.beesHome[minuteOf(truth, event.atMs) - 1]!;
    const after = truth.beesHome[minuteOf(truth, event.atMs) + 60]!;
    expect(after).toBeLessThan(0.3 * before);
  });
});
