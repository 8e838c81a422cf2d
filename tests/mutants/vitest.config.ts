/** The tests of the rooms that are mutated, alone: no browser and no built server, so that a mutant costs little. */
import { statSync } from 'node:fs';
import { defineConfig } from 'vitest/config';
import { BaseSequencer, type TestSpecification } from 'vitest/node';
import { changedFigure } from './figure-change.ts';

const sizeOf = ({ moduleId }: TestSpecification): number => statSync(moduleId).size;

/** Tables before whole stories: a change that a table notices ends there. */
class SmallFilesFirst extends BaseSequencer {
  override sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    return Promise.resolve(files.toSorted((one, other) => sizeOf(one) - sizeOf(other)));
  }
}

const judges = (process.env.MUTANTS_JUDGES ?? 'biology,introduction,rules,published').split(',');

export default defineConfig({
  plugins: [changedFigure(process.env.MUTANTS_FIGURE)],
  test: {
    include: judges.map((one) => (one.endsWith('.ts') ? `tests/${one}` : `tests/${one}/**/*.test.ts`)),
    // Random logs cost more than all other tests, for every mutant, and a failure there names no reason: stories are to notice it.
    exclude: ['tests/**/*.long.test.ts', 'tests/introduction/*-properties.test.ts'],
    // What runs when a module is loaded is not mutated, so that a worker may keep what it has loaded.
    isolate: false,
    sequence: { sequencer: SmallFilesFirst },
    setupFiles: ['tests/support/property-seed.ts'],
    testTimeout: 120_000,
  },
});
