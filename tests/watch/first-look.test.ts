/** Until everything was looked at once, and while late readings are, more alerts may come: pages are told so. */
import { afterEach, expect, it } from 'vitest';
import { clockedFarm, foundNucs, type ClockedFarm } from './support/clocked-farm.ts';

let world: ClockedFarm | undefined;
afterEach(() => world?.close());

it('is still looking before the first evaluation, and until the past of what was set up is read', async () => {
  world = await clockedFarm(Date.parse('2026-06-10T08:00:00Z'));
  const { farm } = world;
  const heard: string[] = [];
  world.events.join(
    { write: (text) => heard.push(String(text)), end: () => 0, destroy: () => 0, writableLength: 0 },
    { type: 'hello', time: '2026-06-10T08:00:00Z', version: 'test' },
    { stillAllowed: () => true, shares: [] },
  );
  expect(farm.views.isLooking()).toBe(true);
  await world.minute();
  expect(farm.views.isLooking()).toBe(false);
  expect(heard.filter((text) => text.includes('"status"'))).toHaveLength(1);
  foundNucs(world, 3);
  expect(farm.views.isLooking()).toBe(true);
  // A nuc is read once its late readings have stopped coming.
  world.nowMs += 5_000;
  while (farm.watch.work(world.nowMs));
  expect(farm.views.isLooking()).toBe(false);
});
