/** Every scenario with its field log, every three hours: page, alerts, gates and the list of tonight say one thing about one quantity. */
import { describe, expect, it } from 'vitest';
import { scenarioNames } from '../../simulator/scenarios.ts';
import { disagreements } from './page-contradictions.ts';
import { pagesOf } from './page-over-time.ts';

/** `SEEDS` more than these, from 1 on, for a look by hand. */
const seeds = Array.from({ length: Number(process.env['SEEDS'] ?? 2) }, (_, i) => i + 1);
const days = 12;

describe.each(scenarioNames)('%s', (scenario) => {
  it.each(seeds)(
    'seed %d',
    (seed) => {
      const found: string[] = [];
      let instants = 0;
      for (const page of pagesOf(scenario, seed, days)) {
        instants += 1;
        for (const name of disagreements(page)) found.push(`${new Date(page.nowMs).toISOString()}: ${name}`);
      }
      expect(instants).toBeGreaterThan(90);
      expect(found).toEqual([]);
    },
    240_000,
  );
});
