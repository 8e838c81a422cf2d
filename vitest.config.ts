import { defineConfig } from 'vitest/config';
import SlowestFirst from './tests/slowest-first.ts';

/** Rooms whose tests take values and compare values: they leave nothing behind, so a worker keeps what it has loaded. */
const pure = ['biology', 'introduction', 'signals', 'rules', 'published', 'dashboard'].map(
  (room) => `tests/${room}/**/*.test.ts`,
);
const rooms = ['biology', 'introduction', 'signals', 'rules'];

export default defineConfig({
  test: {
    // Native modules and real child processes: forks keep a crash to one file.
    pool: 'forks',
    maxWorkers: 2,
    sequence: { sequencer: SlowestFirst },
    setupFiles: ['tests/support/property-seed.ts'],
    testTimeout: 20_000,
    hookTimeout: 60_000,
    projects: [
      { extends: true, test: { name: 'pure', include: pure, isolate: false } },
      { extends: true, test: { name: 'whole', include: ['tests/**/*.test.ts'], exclude: pure } },
    ],
    coverage: {
      provider: 'v8',
      include: rooms.map((room) => `server/${room}/**`),
      reporter: ['text-summary', 'json'],
      thresholds: Object.fromEntries(rooms.map((room) => [`server/${room}/**`, { branches: 95 }])),
    },
  },
});
