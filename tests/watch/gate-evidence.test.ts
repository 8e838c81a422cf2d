/** What the sensors say at the gates. A caged queen stands 15 °C (McAfee et al. 2020), where brood wants 32 °C. */
import { expect, it } from 'vitest';
import { gateEvidence } from '../../server/watch/gate-evidence.ts';
import { estimate, signals as madeUp } from '../rules/made-up.ts';

it.each([
  [30, false],
  [15.5, false],
  [14, true],
])('a night down to %d °C among the bees is too cold for a cage: %s', (value, tooCold) => {
  // Far under what brood wants in each case.
  const outlook = {
    ...madeUp().outlook,
    limitC: 32,
    chanceBelow: 1,
    tonightMinC: estimate(value, value - 2, value + 2),
  };
  expect(gateEvidence(madeUp({ outlook }), 0.05, null).outlook?.tooCold).toBe(tooCold);
});

it('robbing is no cause to open the nuc early', () => {
  const robbing = { underWay: true, why: 'two days with a loss', days: [] };
  const evidence = gateEvidence(madeUp({ robbing }), 0.05, null);
  expect(evidence.trouble).toBeUndefined();
  expect(evidence.robbing).toBeDefined();
});
