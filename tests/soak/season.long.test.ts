/** Four days of a season that has everything; `npm run soak -- season` runs all of it. */
import { expect, it } from 'vitest';
import { season } from './season.ts';

it('a season of dying sensors, jumping clocks, upgrades, a full disk and a restore loses nothing', async () => {
  const rows = await season({ days: 4, nucs: 6, everyMinutes: 30 });
  expect(rows.length).toBeGreaterThan(10);
  expect(rows.filter(({ ok }) => !ok)).toEqual([]);
}, 900_000);
