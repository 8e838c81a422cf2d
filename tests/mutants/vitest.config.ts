/** The tests of the rooms that are mutated, alone: no browser and no built server, so that a mutant costs little. */
import { defineConfig } from 'vitest/config';
import { changedFigure } from './figure-change.ts';

const judges = (process.env.MUTANTS_JUDGES ?? 'biology,introduction,rules,published').split(',');

export default defineConfig({
  plugins: [changedFigure(process.env.MUTANTS_FIGURE)],
  test: {
    include: judges.map((room) => `tests/${room}/**/*.test.ts`),
    // Random logs cost more than all other tests, for every mutant, and a failure there names no reason: stories are to notice it.
    exclude: ['tests/**/*.long.test.ts', 'tests/introduction/*-properties.test.ts'],
    // What runs when a module is loaded is not mutated, so that a worker may keep what it has loaded.
    isolate: false,
    setupFiles: ['tests/support/property-seed.ts'],
    testTimeout: 120_000,
  },
});
