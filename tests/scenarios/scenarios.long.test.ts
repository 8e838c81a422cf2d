/** Two of the simulator's scenarios, short and seeded; `npm run scenarios` runs them all. */
import { describe, expect, it } from 'vitest';
import { scenarioCases } from './expectations.ts';
import { runCase } from './run-case.ts';

const caseOf = (name: string) => scenarioCases.find(({ scenario }) => scenario === name)!;

describe('through MQTT, store, analysis and rules', () => {
  it.each([
    { name: 'toppled', days: 4 },
    { name: 'rain-held', days: 3.4 },
  ])(
    '$name raises its own alert and nothing else',
    async ({ name, days }) => {
      const { rows } = await runCase({ ...caseOf(name), days });
      expect(rows.filter(({ problem }) => problem !== null)).toEqual([]);
      expect(rows.map(({ rule }) => rule)).toEqual(caseOf(name).expected.map(({ rule }) => rule));
    },
    300_000,
  );
});
