/** A visit that was logged outside any introduction explains what the scale felt. */
import { afterEach, beforeEach, expect, it } from 'vitest';
import {
  assignAll,
  clockedFarm,
  foundNucs,
  hourMs,
  minuteMs,
  type ClockedFarm,
} from './support/clocked-farm.ts';

const startMs = Date.UTC(2027, 5, 1, 6);
const goneMs = startMs + 8 * hourMs;
let one: ClockedFarm;

/** A nuc between two queens, on its scale until it is carried away. */
beforeEach(async () => {
  one = await clockedFarm(startMs);
  foundNucs(one, 1);
  const readings = Array.from({ length: (9 * hourMs) / (5 * minuteMs) }, (_, i) => {
    const atMs = startMs + i * 5 * minuteMs;
    const value = atMs < goneMs ? 12 + 0.002 * Math.sin(i) : 0.01 + 0.002 * Math.sin(i);
    return { sensor: 'box-1', quantity: 'weight' as const, unit: 'kg', value, atMs };
  });
  one.nowMs = goneMs + hourMs;
  await one.publish(readings);
  assignAll(one, () => 'nuc-1');
});
afterEach(() => one.close());

const isGone = async (): Promise<boolean> => {
  for (let i = 0; i < 20; i += 1) {
    one.nowMs += minuteMs;
    await one.minute();
  }
  return [...one.farm.watch.book.alerts.values()].some(
    ({ ruleId, at }) => ruleId === 'box-gone' && (at.phase === 'raised' || at.phase === 'clearing'),
  );
};
const moved = {
  id: 'carried-1',
  hiveId: 'nuc-1',
  kind: 'moved' as const,
  happenedAtMs: goneMs,
  writtenAtMs: goneMs + hourMs,
};

it('says that a box is gone where nobody says otherwise', async () => {
  expect(await isGone()).toBe(true);
});

it('does not once the visit is logged, and does again once that is withdrawn', async () => {
  one.store.hiveVisits.add(moved);
  await one.farm.views.afterHiveVisit('nuc-1', one.nowMs);
  expect(await isGone()).toBe(false);
  one.store.hiveVisits.withdraw(moved.id, one.nowMs);
  await one.farm.views.afterHiveVisit('nuc-1', one.nowMs);
  expect(await isGone()).toBe(true);
});
