/** The bench of the watch's minute, at a small size: it measures, and what it measures does not grow with the history. */
import { expect, it } from 'vitest';
import { tickFlatBench } from './tick-flat.ts';

it('a minute of the watch does not become dearer by tens with the history', () => {
  const [row] = tickFlatBench(1, 90);
  expect(Number(/× (\S+)\)/.exec(row?.measured ?? '')?.[1])).toBeGreaterThan(0.1);
  // Thirteen times the readings: a watch that read them all would cost as much more.
  expect(Number(/× (\S+)\)/.exec(row?.measured ?? '')?.[1])).toBeLessThan(6);
});
