/** The demo's Plan page has something to show: queens in the house, a delivery put off, nucs still to be split. */
import { afterAll, beforeAll, expect, it } from 'vitest';
import { writeDown } from '../../server/demo.ts';
import type { ResponseOf } from '../../server/contract/index.ts';
import { buildDemo } from '../../simulator/demo/demo.ts';
import { startFarm, type FarmServer } from '../support/farm-server.ts';

let server: FarmServer;
const farm = buildDemo(Date.UTC(2026, 5, 10, 9, 58), 20, 'Europe/Berlin');
beforeAll(async () => {
  server = await startFarm(farm.nowMs);
  await writeDown(farm, server.url);
}, 60_000);
afterAll(() => server.stop());

it('shows deliveries against nucs: two to hang now, two that are late, two that are not split yet', async () => {
  const { items } = await server.get<ResponseOf<'getQueens'>>('/plan/queens');
  const nucs = (name: string) =>
    items.find((one) => one.name === name)!.nucs.map(({ nucName, order, late }) => [nucName, order, late]);
  expect(nucs('Fourth queens')).toEqual([
    ['Nuc 16', 1, false],
    ['Nuc 17', 2, false],
  ]);
  expect(nucs('Fifth queens')).toEqual([
    ['Nuc 19', 1, true],
    ['Nuc 21', 2, true],
  ]);
  expect(nucs('Sixth queens')).toEqual([
    ['Nuc to come 1', 1, false],
    ['Nuc to come 2', 2, false],
  ]);
});

it('has one delivery that was moved, and one of which a queen came dead', async () => {
  const { items } = await server.get<ResponseOf<'listArrivals'>>('/arrivals');
  expect(items.find(({ id }) => id === 'delivery-5')).toMatchObject({
    state: 'delayed',
    expected: '2026-06-19',
    assigned: 2,
  });
  expect(items.find(({ id }) => id === 'delivery-1')).toMatchObject({ dead: 1, assigned: 1 });
  // Every nuc of the demo has a delivery, and none has more nucs than queens that lived.
  expect(items.reduce((sum, one) => sum + one.assigned, 0)).toBe(
    farm.nucs.length + farm.finished.nucs.length + 2,
  );
  for (const one of items) expect(one.queens - one.dead, one.name).toBeGreaterThanOrEqual(one.assigned);
});
