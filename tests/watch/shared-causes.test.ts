/** One cause that touches many nucs is one finding, and every nuc that it touches shows it. */
import { afterEach, describe, expect, it } from 'vitest';
import { rules } from '../../server/rules/catalogue/registry.ts';
import { isOpen } from '../../server/rules/engine/alert-state.ts';
import { nucsOf } from '../../server/rules/engine/suppression.ts';
import {
  assignAll,
  clockedFarm,
  everyMs,
  foundNucs,
  hourMs,
  runUntil,
  type ClockedFarm,
  type Reading,
} from './support/clocked-farm.ts';

const evening = Date.UTC(2026, 4, 12, 18);
let running: ClockedFarm | undefined;
afterEach(async () => {
  await running?.close();
  running = undefined;
});

const open = ({ farm }: ClockedFarm): string[] =>
  [...farm.watch.book.alerts.values()]
    .filter(isOpen)
    .map(({ ruleId, subject }) => `${ruleId} ${subject.kind} ${subject.id}`);

const wave = (atMs: number): number => Math.sin(atMs / hourMs) / 5;
const brood = (sensor: string, probe: string, atMs: number): Reading => ({
  sensor,
  quantity: 'temperature',
  probe,
  atMs,
  value: 34.5 + wave(atMs) + probe.length / 100,
});

describe('a device that serves two nucs', () => {
  it('is one alert when it falls silent, shown with each of them and with no other', async () => {
    const farm = (running = await clockedFarm(evening - 6 * hourMs));
    const ids = foundNucs(farm, 3);
    const shared = (atMs: number) => [brood('pair', 'left', atMs), brood('pair', 'right', atMs)];
    const alone = (atMs: number) => brood('single', 'third', atMs);
    await farm.publish([...shared(farm.nowMs), alone(farm.nowMs)]);
    const nucOfProbe: Record<string, string> = { left: 'nuc-1', right: 'nuc-2', third: 'nuc-3' };
    assignAll(farm, (_, probe) => nucOfProbe[probe] ?? '');
    farm.nowMs += everyMs;
    await runUntil(farm, evening, (atMs) => [...shared(atMs), alone(atMs)]);
    expect(open(farm)).toEqual([]);
    await runUntil(farm, evening + 4 * hourMs, (atMs) => [alone(atMs)]);
    expect(open(farm)).toEqual(['sensor-silent device pair']);

    const { views } = farm.farm;
    const asked = { state: 'open', limit: 100 } as const;
    expect((await views.alerts(asked, farm.nowMs)).map(({ subject }) => subject.nucIds)).toEqual([
      ['nuc-1', 'nuc-2'],
    ]);
    const shown = await Promise.all(
      ids.map(async (nuc) => (await views.alerts({ ...asked, nuc }, farm.nowMs)).length),
    );
    expect(shown).toEqual([1, 1, 0]);
    const { watch } = farm.farm;
    const { alerts } = watch.book;
    const looked = ids.map((id) =>
      watch
        .evaluations(id, farm.nowMs)
        .some(({ ruleId, subject }) => ruleId === 'sensor-silent' && subject.id === 'pair'),
    );
    expect(looked).toEqual([true, true, false]);
    const ofNuc = rules.filter(({ on }) => on === 'nuc').map(({ id }) => id);
    expect(watch.evaluations('nuc-3', farm.nowMs).map(({ ruleId }) => ruleId)).toEqual(
      expect.arrayContaining(ofNuc),
    );
    // To ask is no step of an alert, and what is kept goes with the alerts.
    expect(watch.book.alerts).toBe(alerts);
    expect([...watch.latestEvaluations().keys()].sort()).toEqual([...alerts.keys()].sort());

    const single = farm.store.places.hive('nuc-1');
    if (!single) throw new Error('nuc-1 is not in the store');
    for (const id of ids) farm.store.places.putHive({ ...single, id, retiredAtMs: farm.nowMs });
    watch.tick(farm.nowMs + everyMs);
    const kept = [...watch.latestEvaluations().values()].flatMap(({ subject }) => nucsOf(subject));
    expect(kept).toEqual([]);
  }, 60_000);
});

describe('a broker of the keeper’s that is out of reach', () => {
  it('is one finding for the whole farm, not one a nuc, and clears once', async () => {
    const farm = (running = await clockedFarm(evening - 6 * hourMs));
    const ids = foundNucs(farm, 10);
    const all = (atMs: number) => ids.map((id) => brood(`box-${id}`, 'brood', atMs));
    await farm.publish(all(farm.nowMs));
    assignAll(farm, (sensor) => sensor.slice('box-'.length));
    farm.nowMs += everyMs;
    let awaySinceMs: number | null = null;
    farm.farm.connect({
      facts: () => ({
        brokerAwaySinceMs: awaySinceMs,
        brokerSinceMs: 0,
        storeRefusingSinceMs: null,
        storeRefusingWhy: null,
      }),
      publish: () => Promise.resolve(),
    });
    await runUntil(farm, evening, all);
    expect(open(farm)).toEqual([]);
    awaySinceMs = evening;
    await runUntil(farm, evening + 6 * hourMs, () => []);
    expect(open(farm)).toEqual(['broker-away server server']);
    awaySinceMs = null;
    await runUntil(farm, evening + 8 * hourMs, all);
    expect(open(farm)).toEqual([]);
    expect(farm.farm.watch.book.ended(0, 100).map(({ ruleId }) => ruleId)).toEqual(['broker-away']);
  }, 60_000);
});
