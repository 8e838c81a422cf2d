import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    // Native modules and real child processes: forks keep a crash to one file.
    pool: 'forks',
    maxWorkers: 2,
    setupFiles: ['tests/support/property-seed.ts'],
    testTimeout: 20_000,
    hookTimeout: 60_000,
    coverage: {
      provider: 'v8',
      include: ['server/biology/**', 'server/introduction/**', 'server/signals/**', 'server/rules/**'],
    },
  },
});
