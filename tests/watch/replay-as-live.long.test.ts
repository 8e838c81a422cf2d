/**
 * The same as `replay-as-live.test.ts` over longer windows, and more of them: `npm run test:long`. `LONG_RUNS` says how many
 * windows of each scenario, `LONG_HOURS` how long each; `PROPERTY_SEED` draws others.
 */
import fc from 'fast-check';
import { afterAll, describe, expect, it } from 'vitest';
import { scenarioNames } from '../../simulator/scenarios.ts';
import { dropFolder, newFolder } from '../support/server-process.ts';
import { differencesIn, windows } from './support/same-as-live.ts';

const numRuns = Number(process.env['LONG_RUNS'] ?? 5);
const hours = Number(process.env['LONG_HOURS'] ?? 36);

describe('a replay', () => {
  const folder = newFolder();
  afterAll(() => {
    dropFolder(folder);
  });

  it.each(scenarioNames)(
    'finds what was watched live in long windows of the scenario %s',
    (scenario) => {
      fc.assert(
        fc.property(windows, (window) => {
          expect(differencesIn(folder, scenario, window, hours)).toEqual([]);
        }),
        { numRuns, endOnFailure: true },
      );
    },
    numRuns * hours * 10_000,
  );
});
