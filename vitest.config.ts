import { defineConfig } from 'vitest/config';
import SlowestFirst from './tests/slowest-first.ts';

/** Tests that take values and compare values, or stop what they start: a worker keeps between them what it has loaded. */
const shared = [
  ...['biology', 'introduction', 'signals', 'rules', 'published', 'dashboard'],
  ...['http', 'ingest', 'notify'],
].map((room) => `tests/${room}/**/*.test.ts`);
/** Run by `npm run test:long`. */
const long = 'tests/**/*.long.test.ts';
const rooms = ['biology', 'introduction', 'signals', 'rules'];

export default defineConfig({
  test: {
    // Native modules and real child processes: forks keep a crash to one worker.
    pool: 'forks',
    maxWorkers: 2,
    sequence: { sequencer: SlowestFirst },
    setupFiles: ['tests/support/property-seed.ts'],
    testTimeout: 20_000,
    hookTimeout: 60_000,
    projects: [
      { extends: true, test: { name: 'shared', include: shared, isolate: false } },
      { extends: true, test: { name: 'apart', include: ['tests/**/*.test.ts'], exclude: [...shared, long] } },
    ],
    coverage: {
      provider: 'v8',
      include: rooms.map((room) => `server/${room}/**`),
      reporter: ['text-summary', 'json'],
      thresholds: Object.fromEntries(rooms.map((room) => [`server/${room}/**`, { branches: 95 }])),
    },
  },
});
