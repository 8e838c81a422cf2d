import { setImmediate } from 'node:timers/promises';
import { afterEach, expect, test } from 'vitest';
import { clockedFarm, foundNucs, type ClockedFarm } from './support/clocked-farm.ts';

let world: ClockedFarm | undefined;
afterEach(() => world?.close());

test('after a start nucs are read one at a turn, so that readings and pages are served in between', async () => {
  world = await clockedFarm(Date.parse('2026-06-10T08:00:00Z'));
  const { farm } = world;
  foundNucs(world, 8);
  farm.start();
  let turns = 0;
  for (; farm.watch.lastRun === null && turns < 100; turns += 1) await setImmediate();
  expect(turns).toBeGreaterThan(8);
  expect(farm.watch.lastRun).not.toBeNull();
});

test('a stop in between ends it', async () => {
  world = await clockedFarm(Date.parse('2026-06-10T08:00:00Z'));
  const { farm } = world;
  foundNucs(world, 8);
  farm.start();
  await setImmediate();
  farm.stop();
  for (let turn = 0; turn < 20; turn += 1) await setImmediate();
  expect(farm.watch.lastRun).toBeNull();
});
