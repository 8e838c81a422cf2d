/**
 * How much a test does: `npm test` runs small sizes; `npm run test:long` runs the same tests at full size, through a
 * `*.long.test.ts` that imports them.
 */
export const full = process.env['TEST_SIZE'] === 'full';

export const sized = (small: number, atFullSize: number): number => (full ? atFullSize : small);
