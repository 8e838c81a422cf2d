/** Three weeks and a half of a season that has everything; `npm run soak -- season` runs all of it. */
import { expect, it } from 'vitest';
import { season } from './season.ts';

it('a season of dying sensors, jumping clocks, upgrades, a full disk and a restore loses nothing', async () => {
  const rows = await season({ days: 24, nucs: 10, everyMinutes: 5, seed: 50, onProgress: console.log });
  expect(rows.length).toBeGreaterThan(15);
  expect(rows.map(({ what }) => what).join()).toContain('introductions: calm');
  expect(rows.filter(({ ok }) => !ok)).toEqual([]);
}, 1_800_000);
