/** Three hours with two months of history; `npm run soak -- hours` plays eight with three years. */
import { expect, it } from 'vitest';
import { dropFolder, newFolder } from '../support/server-process.ts';
import { growthOf, hoursOn, mostGrowth } from './hours.ts';

it('hours on end leave nothing behind in the heap', async () => {
  const folder = newFolder();
  try {
    const hours = await hoursOn({ folder, nucs: 2, days: 60, hours: 4 });
    expect(hours.map(({ hour }) => hour)).toEqual([1, 2, 3, 4]);
    expect(Math.min(...hours.map(({ heapMb }) => heapMb))).toBeGreaterThan(10);
    expect(growthOf(hours)).toBeLessThanOrEqual(mostGrowth);
  } finally {
    dropFolder(folder);
  }
}, 300_000);
