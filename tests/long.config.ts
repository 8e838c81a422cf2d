/** `npm run test:long`: what takes too long for `npm test`, and the pure rooms where clocks change by odd amounts. */
import { defineConfig } from 'vitest/config';

const pureRooms = ['biology', 'introduction', 'signals', 'rules', 'words', 'views'].map(
  (room) => `tests/${room}/**/*.test.ts`,
);
const long = 'tests/**/*.long.test.ts';
/** Half an hour off the full one, and clocks that change by half an hour. */
const zones = ['America/St_Johns', 'Australia/Lord_Howe'];

export default defineConfig({
  test: {
    // What the ordinary tests have made ready serves here, too.
    experimental: { fsModuleCache: true, fsModuleCachePath: '.cache/vitest' },
    pool: 'forks',
    maxWorkers: 2,
    setupFiles: ['tests/support/property-seed.ts'],
    // Against what hangs, not against what is slow.
    testTimeout: 300_000,
    hookTimeout: 60_000,
    expect: { poll: { timeout: 30_000 } },
    projects: [
      {
        extends: true,
        test: { name: 'long', include: [long], env: { TEST_SIZE: 'full' } },
      },
      ...zones.map((zone) => ({
        extends: true as const,
        test: {
          name: zone,
          include: pureRooms,
          exclude: [long],
          env: { TZ: zone },
          setupFiles: ['tests/support/zone-holds.ts'],
        },
      })),
    ],
  },
});
