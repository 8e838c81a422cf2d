/**
 * The same as `replay-as-live.test.ts` over the scenarios that raise most of the alerts: `npm run test:long`. `LONG_RUNS`
 * says how many windows of each, `LONG_HOURS` how long each; `PROPERTY_SEED` draws others.
 */
import fc from 'fast-check';
import { afterAll, describe, expect, it } from 'vitest';
import { dropFolder, newFolder } from '../support/server-process.ts';
import { differencesIn, windows } from './support/same-as-live.ts';
import './replay-as-live.test.ts';

const numRuns = Number(process.env['LONG_RUNS'] ?? 1);
const hours = Number(process.env['LONG_HOURS'] ?? 10);

const named = ['absconded', 'toppled', 'stores-out', 'probe-stuck', 'gateway-off'] as const;

describe('a replay', () => {
  const folder = newFolder();
  afterAll(() => {
    dropFolder(folder);
  });

  it.each(named)(
    'finds what was watched live in longer windows of the scenario %s',
    (scenario) => {
      fc.assert(
        fc.property(windows, (window) => {
          expect(differencesIn(folder, scenario, window, hours)).toEqual([]);
        }),
        { numRuns, endOnFailure: true },
      );
    },
    numRuns * hours * 30_000,
  );
});
