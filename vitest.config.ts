import { defineConfig } from 'vitest/config';
import SlowestFirst from './tests/slowest-first.ts';

/** Tests that take values and compare values, or stop what they start: a worker keeps between them what it has loaded. */
const shared = [
  'biology',
  'introduction',
  'signals',
  'rules',
  'published',
  'dashboard',
  'http',
  'ingest',
  'notify',
  'store',
  'views',
  'watch',
  'words',
  'jobs',
  'forecast',
  'open-data',
  'levels',
].map((room) => `tests/${room}/**/*.test.ts`);
/** Run by `npm run test:long`. */
const long = 'tests/**/*.long.test.ts';
/** One browser for all that a worker runs. */
const browser = ['tests/browser/**/*.test.ts'];
const rooms = ['biology', 'introduction', 'signals', 'rules'];

export default defineConfig({
  test: {
    // What one project has made ready serves the others, and the next run.
    experimental: { fsModuleCache: true, fsModuleCachePath: '.cache/vitest' },
    // Native modules and real child processes: forks keep a crash to one worker.
    pool: 'forks',
    // One more than the cores that this is meant for: many tests wait for a server or a page.
    maxWorkers: 3,
    sequence: { sequencer: SlowestFirst },
    setupFiles: ['tests/support/property-seed.ts'],
    // Against what hangs, not against what is slow: other work on the machine makes everything slower.
    testTimeout: 120_000,
    hookTimeout: 60_000,
    expect: { poll: { timeout: 30_000 } },
    projects: [
      { extends: true, test: { name: 'shared', include: shared, exclude: [long], isolate: false } },
      {
        extends: true,
        test: {
          name: 'browser',
          include: browser,
          exclude: [long],
          isolate: false,
          setupFiles: ['tests/browser/setup.ts'],
        },
      },
      {
        extends: true,
        test: { name: 'apart', include: ['tests/**/*.test.ts'], exclude: [...shared, ...browser, long] },
      },
    ],
    coverage: {
      provider: 'v8',
      include: rooms.map((room) => `server/${room}/**`),
      reporter: ['text-summary', 'json'],
      thresholds: Object.fromEntries(rooms.map((room) => [`server/${room}/**`, { branches: 95 }])),
    },
  },
});
