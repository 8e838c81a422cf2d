/** `npm run test:long`: what takes too long for `npm test`. */
import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/**/*.long.test.ts'],
    pool: 'forks',
    maxWorkers: 2,
    setupFiles: ['tests/support/property-seed.ts'],
  },
});
