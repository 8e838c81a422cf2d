/** The simulated keeper writes down what was done and what was there to be seen. */
import { describe, expect, it } from 'vitest';
import { demoFacts } from '../../simulator/demo/demo-log.ts';
import type { PlannedNuc } from '../../simulator/demo/demo-plan.ts';
import { simulateNuc, type ScenarioName } from '../../simulator/index.ts';

const planned: PlannedNuc = {
  key: 'one',
  name: 'One',
  siteKey: 'site',
  parentKey: 'parent',
  day: 0,
  queen: { key: 'queen', mark: 'one', source: 'trial' },
  shows: '',
  model: {},
};
const logOf = (scenario: ScenarioName, days: number) => {
  const nuc = simulateNuc({ seed: 4, scenario, days });
  return demoFacts(planned, nuc, nuc.splitMs + days * 86_400_000).map(({ fact }) => fact);
};

describe('the simulated keeper’s log', () => {
  it('has the cage hung and its candy opened where both fall on the day of a cut', () => {
    const kinds = logOf('late-queen', 18).map(({ kind }) => kind);
    expect(kinds.slice(-5)).toEqual([
      'cells-cut',
      'queen-arrived',
      'cage-hung',
      'cage-checked',
      'candy-opened',
    ]);
  });

  it('sees a queen who lives and no queen who was killed', () => {
    const seen = (scenario: ScenarioName) =>
      logOf(scenario, 18).flatMap((fact) => (fact.kind === 'looked-for-queen' ? [fact['queenSeen']] : []));
    expect(seen('clean')).toEqual([true]);
    expect(seen('opened-in-hands-off')).toEqual([false]);
  });
});
