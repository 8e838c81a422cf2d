/** While nothing can be stored, the keeper is notified all the same: once, on the page and by every notification channel. */
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { afterEach, expect, it } from 'vitest';
import { isOpen } from '../../server/rules/engine/alert-state.ts';
import { clockedFarm, minuteMs, type ClockedFarm } from './support/clocked-farm.ts';

let running: ClockedFarm | undefined;
afterEach(async () => {
  await running?.close();
  running = undefined;
});

const standing = ({ farm }: ClockedFarm) =>
  [...farm.watch.book.alerts.values()].filter(isOpen).map(({ ruleId }) => ruleId);

it('raises one alert, notifies, and keeps both until they can be stored', { timeout: 60_000 }, async () => {
  const farm = (running = await clockedFarm(Date.UTC(2026, 4, 12, 18)));
  farm.store.settings.put(
    'telling/page',
    { id: 'page', name: 'The page', kind: 'browser', enabled: true, urgencies: ['now'], address: '' },
    { by: 'test' },
  );
  let refusing: { readonly sinceMs: number; readonly detail: string } | null = null;
  farm.farm.connect({
    facts: () => ({
      brokerAwaySinceMs: null,
      brokerSinceMs: 0,
      storeRefusingSinceMs: refusing?.sinceMs ?? null,
      storeRefusingWhy: refusing?.detail ?? null,
    }),
    publish: () => Promise.resolve(),
  });
  await farm.minute();
  expect(standing(farm)).toEqual([]);

  const other = new Database(join(farm.folder, 'welcomb.db'));
  other.exec('BEGIN IMMEDIATE');
  refusing = { sinceMs: farm.nowMs, detail: 'Nothing can be stored: another program holds the file.' };
  for (let minute = 0; minute < 3; minute += 1) {
    farm.nowMs += minuteMs;
    await farm.minute();
    expect(standing(farm)).toEqual(['disk-filling']);
  }
  const [alert] = farm.farm.watch.book.alerts.values();
  expect(JSON.stringify(alert)).toContain('another program holds the file');
  other.exec('ROLLBACK');
  other.close();

  refusing = null;
  for (let minute = 0; minute < 12; minute += 1) {
    farm.nowMs += minuteMs;
    await farm.minute();
  }
  expect(standing(farm)).toEqual([]);
  expect(farm.farm.watch.book.ended(0, 10).map(({ ruleId }) => ruleId)).toEqual(['disk-filling']);
  const told = farm.store.deliveries.recent(10).map(({ kind, items }) => [kind, items[0]?.ruleId]);
  expect(told.reverse()).toEqual([
    ['alert', 'disk-filling'],
    ['all-clear', 'disk-filling'],
  ]);
});
