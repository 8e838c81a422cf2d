/** Everything out of one server and into an empty one: alerts stand as they stood, and nobody is notified of them again. */
import { afterEach, expect, it } from 'vitest';
import { everything } from '../../server/http/export/everything.ts';
import { createImporter } from '../../server/http/export/import.ts';
import { episodeOf, isOpen, type Episode } from '../../server/rules/engine/alert-state.ts';
import {
  assignAll,
  clockedFarm,
  foundNucs,
  hourMs,
  minuteMs,
  notifyPage,
  type ClockedFarm,
} from './support/clocked-farm.ts';

const running: ClockedFarm[] = [];
afterEach(async () => {
  for (const farm of running.splice(0)) await farm.close();
});
const startMs = Date.UTC(2026, 4, 12, 8);

async function begun(nowMs: number): Promise<ClockedFarm> {
  const farm = await clockedFarm(nowMs);
  running.push(farm);
  notifyPage(farm);
  farm.farm.connect({
    facts: () => ({
      brokerAwaySinceMs: null,
      brokerSinceMs: 0,
      storeRefusingSinceMs: null,
      storeRefusingWhy: null,
    }),
    publish: () => Promise.resolve(),
  });
  return farm;
}

async function goOn(farm: ClockedFarm, hours: number, battery: number): Promise<void> {
  for (let minute = 0; minute < hours * 60; minute += 10) {
    await farm.publish([
      { sensor: 'scale-1', quantity: 'battery', value: battery, unit: '%', atMs: farm.nowMs },
    ]);
    await farm.minute();
    farm.nowMs += 10 * minuteMs;
  }
}

const open = ({ farm }: ClockedFarm): (Pick<Episode, 'id' | 'raisedAtMs' | 'seen'> & { ruleId: string })[] =>
  [...farm.watch.book.alerts.values()].filter(isOpen).map((alert) => {
    const { id = '', raisedAtMs = 0, seen = null } = episodeOf(alert) ?? {};
    return { ruleId: alert.ruleId, id, raisedAtMs, seen };
  });

it(
  'an import brings alerts, who saw them and what is over, and notifies of none of it',
  { timeout: 120_000 },
  async () => {
    const before = await begun(startMs);
    foundNucs(before, 1);
    await before.publish([{ sensor: 'scale-1', quantity: 'battery', value: 60, unit: '%', atMs: startMs }]);
    assignAll(before, () => 'nuc-1');
    await goOn(before, 4, 8);
    const [raised] = open(before);
    expect(raised?.ruleId).toBe('battery-low');
    before.farm.watch.act(raised?.id ?? '', { type: 'seen', nowMs: before.nowMs, by: 'Rowan' });
    const stood = open(before);
    expect(stood[0]?.seen).toMatchObject({ by: 'Rowan' });

    const after = await begun(before.nowMs + hourMs);
    const importer = createImporter(after.store, 'Rowan', () => after.nowMs);
    for (const line of everything(before.store, { version: '0', nowMs: before.nowMs, readings: 'raw' }))
      expect(importer.take(JSON.stringify(line))).toBe(true);
    await importer.finish();
    await after.farm.views.afterImport();
    // Its past was evaluated there.
    expect(after.farm.watch.isCatchingUp).toBe(false);
    await goOn(after, 3, 8);
    expect(open(after)).toEqual(stood);
    expect(after.store.deliveries.recent(10).filter(({ state }) => state !== 'not-told')).toEqual([]);

    // It ends here as it would have ended there.
    await goOn(after, 4, 90);
    expect(open(after)).toEqual([]);
    expect(after.farm.watch.book.ended(0, 10).map(({ episode }) => episode.id)).toEqual([raised?.id]);
  },
);
