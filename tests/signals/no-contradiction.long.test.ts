/** Every scenario, several seeds, every three hours: no two statements about one quantity disagree. */
import { describe, expect, it } from 'vitest';
import { scenarioNames } from '../../simulator/scenarios.ts';
import { disagreements } from './contradictions.ts';
import { overTime } from './said-at.ts';

/** `SEEDS` more than these, from 1 on, for a look by hand. */
const seeds = Array.from({ length: Number(process.env['SEEDS'] ?? 3) }, (_, i) => i + 1);
const everyHours = 3;

describe.each(scenarioNames)('%s', (scenario) => {
  it.each(seeds)(
    'seed %d',
    (seed) => {
      const found: string[] = [];
      let instants = 0;
      for (const said of overTime(scenario, seed, everyHours)) {
        instants += 1;
        for (const name of disagreements(said)) found.push(`${new Date(said.nowMs).toISOString()}: ${name}`);
      }
      expect(instants).toBeGreaterThan(40);
      expect(found).toEqual([]);
    },
    240_000,
  );
});
