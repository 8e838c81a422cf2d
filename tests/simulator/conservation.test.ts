/** Nothing appears or disappears in a simulated nuc: every gram and every bee is accounted for. */
import { describe, expect, it } from 'vitest';
import { simulateNuc, scenarioNames } from '../../simulator/index.ts';
import { balanceG } from '../../simulator/colony/ledger.ts';

describe('mass', () => {
  it.each(scenarioNames)('is what the account explains, to a thousandth of a gram: %s', (scenario) => {
    const { truth } = simulateNuc({ seed: 11, scenario, everyMinutes: 10 });
    const last = truth.minutes - 1;
    const endG = truth.boxMassG[last]! + truth.beesOut[last]! * truth.bodyG;
    expect(endG - truth.atSplit.boxG).toBeCloseTo(balanceG(truth.ledger), 3);
  });
});

describe('bees', () => {
  it.each([1, 2, 3])(
    'are those of the split and the emerged, less the dead, the lost and the drifted: seed %d',
    (seed) => {
      const { truth } = simulateNuc({ seed, everyMinutes: 10 });
      const last = truth.minutes - 1;
      const gone =
        (truth.ledger.deadBeesG + truth.ledger.lostAfieldG) / truth.bodyG + truth.driftedBees[last]!;
      const here = truth.beesHome[last]! + truth.beesOut[last]!;
      expect(here).toBeCloseTo(truth.atSplit.bees + truth.emerged[last]! - gone, 6);
      expect(truth.beesOut[0]! + truth.beesHome[0]!).toBeLessThanOrEqual(truth.atSplit.bees);
    },
  );
});

describe('energy', () => {
  it('the heat of the whole run is that of the honey burnt for it, 12.5 kJ/g', () => {
    const { truth } = simulateNuc({ seed: 6, everyMinutes: 10 });
    const heatJ = truth.heatW.reduce((sum, watts) => sum + watts * 60, 0);
    // The truth keeps heat in single precision: seven digits.
    expect(truth.ledger.metabolisedG * 12_500).toBeCloseTo(heatJ, -2);
    expect(heatJ / (truth.minutes * 60)).toBeGreaterThan(1);
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
