/** Sensors that fall silent, end to end over MQTT: one device is one alert, a gateway that is off is one alert. */
import { afterEach, describe, expect, it } from 'vitest';
import { episodeOf, isOpen } from '../../server/rules/engine/alert-state.ts';
import { inWords } from '../../server/words/phrase.ts';
import {
  assignAll,
  clockedFarm,
  everyMs,
  foundNucs,
  hourMs,
  notifyPage,
  runUntil,
  type ClockedFarm,
  type Reading,
} from './support/clocked-farm.ts';
import { full, sized } from '../support/size.ts';

const evening = Date.UTC(2026, 4, 12, 18);
let running: ClockedFarm | undefined;
afterEach(async () => {
  await running?.close();
  running = undefined;
});

/** One device a nuc: scale, two probes and its battery in one go. */
const fromDevice = (sensor: string, atMs: number): Reading[] => {
  const wave = Math.sin(atMs / hourMs);
  return [
    { sensor, quantity: 'weight', value: 12 + wave / 100, atMs },
    { sensor, quantity: 'temperature', probe: 'brood', value: 34.5 + wave / 5, atMs },
    { sensor, quantity: 'temperature', probe: 'cage', value: 31 + wave / 5, atMs },
    { sensor, quantity: 'battery', value: 80, unit: '%', atMs },
  ];
};

const watching = new Set(['sensor-silent', 'everything-silent', 'battery-low']);
const standing = ({ farm }: ClockedFarm) =>
  [...farm.watch.book.alerts.values()].filter((alert) => isOpen(alert) && watching.has(alert.ruleId));
const over = ({ farm }: ClockedFarm) =>
  farm.watch.book.ended(0, 1000).filter(({ ruleId }) => watching.has(ruleId));
const told = ({ store }: ClockedFarm) =>
  store.deliveries
    .recent(1000)
    .filter(({ items }) => items.some(({ ruleId }) => watching.has(ruleId)))
    .filter(({ kind }) => kind !== 'reminder')
    .map(({ kind, items }) => `${kind} ${items.map(({ ruleId }) => ruleId).join(' ')}`)
    .reverse();

async function farmOf(nucs: number): Promise<{ farm: ClockedFarm; ids: string[] }> {
  const farm = (running = await clockedFarm(evening - 6 * hourMs));
  const ids = foundNucs(farm, nucs);
  notifyPage(farm);
  await farm.publish(ids.flatMap((id) => fromDevice(`box-${id}`, farm.nowMs)));
  assignAll(farm, (sensor) => sensor.slice('box-'.length));
  farm.nowMs += everyMs;
  return { farm, ids };
}

describe('a device with four channels', () => {
  it('is one alert when it falls silent, names its channels, and clears once', async () => {
    const { farm, ids } = await farmOf(3);
    const all = (nowMs: number) => ids.flatMap((id) => fromDevice(`box-${id}`, nowMs));
    await runUntil(farm, evening, all);
    expect(standing(farm)).toEqual([]);
    const others = (nowMs: number) => ids.slice(1).flatMap((id) => fromDevice(`box-${id}`, nowMs));
    await runUntil(farm, evening + 6 * hourMs, others);
    const alerts = standing(farm);
    expect(alerts.map(({ ruleId, subject }) => `${ruleId} ${subject.kind} ${subject.id}`)).toEqual([
      'sensor-silent device box-nuc-1',
    ]);
    const episode = episodeOf(alerts[0]!);
    const display = { timeZone: 'Europe/Berlin', temperature: 'C', weight: 'kg' } as const;
    const seen = inWords(episode!.message.seen, display);
    for (const name of ['scale', 'brood probe', 'cage probe', 'battery']) expect(seen).toContain(name);
    expect(alerts[0]?.subject).toMatchObject({ nucId: 'nuc-1', siteId: 'hill' });
    await runUntil(farm, evening + 8 * hourMs, all);
    expect(standing(farm)).toEqual([]);
    expect(over(farm)).toHaveLength(1);
    expect(told(farm)).toEqual(['alert sensor-silent', 'all-clear sensor-silent']);
  }, 60_000);

  it('names the one channel that is silent while the others report', async () => {
    const { farm, ids } = await farmOf(2);
    await runUntil(farm, evening, (nowMs) => ids.flatMap((id) => fromDevice(`box-${id}`, nowMs)));
    await runUntil(farm, evening + 5 * hourMs, (nowMs) =>
      ids
        .flatMap((id) => fromDevice(`box-${id}`, nowMs))
        .filter(({ sensor, probe }) => sensor !== 'box-nuc-1' || probe !== 'cage'),
    );
    const alerts = standing(farm);
    expect(alerts).toHaveLength(1);
    const seen = JSON.stringify(episodeOf(alerts[0]!)?.message);
    expect(seen).toContain('cage probe');
    expect(seen).not.toContain('brood probe');
  }, 60_000);

  it('says once that its battery is low', async () => {
    const { farm, ids } = await farmOf(2);
    const low = (nowMs: number) =>
      ids
        .flatMap((id) => fromDevice(`box-${id}`, nowMs))
        .map((one) =>
          one.quantity === 'battery' && one.sensor === 'box-nuc-1' ? { ...one, value: 9 } : one,
        );
    await runUntil(farm, evening, low);
    expect(standing(farm).map(({ ruleId, subject }) => `${ruleId} ${subject.id}`)).toEqual([
      'battery-low box-nuc-1',
    ]);
  }, 60_000);
});

describe('a night with the gateway off', () => {
  it('is one alert for all nucs, told once, and clears once', async () => {
    const { farm, ids } = await farmOf(sized(6, 30));
    const all = (nowMs: number) => ids.flatMap((id) => fromDevice(`box-${id}`, nowMs));
    await runUntil(farm, evening, all);
    await runUntil(farm, evening + 10 * hourMs, () => []);
    expect(standing(farm).map(({ ruleId, subject }) => `${ruleId} ${subject.id}`)).toEqual([
      'everything-silent hill',
    ]);
    await runUntil(farm, evening + 12 * hourMs, all);
    expect(standing(farm)).toEqual([]);
    expect(over(farm).map(({ ruleId }) => ruleId)).toEqual(['everything-silent']);
    expect(told(farm)).toEqual(['alert everything-silent', 'all-clear everything-silent']);
  }, 120_000);

  it.runIf(full)(
    'is one alert too when the gateway keeps the night and delivers it in the morning',
    async () => {
      const { farm, ids } = await farmOf(30);
      const all = (nowMs: number) => ids.flatMap((id) => fromDevice(`box-${id}`, nowMs));
      await runUntil(farm, evening, all);
      const kept: Reading[] = [];
      await runUntil(farm, evening + 10 * hourMs, (nowMs) => {
        kept.push(...all(nowMs));
        return [];
      });
      await farm.publish(kept);
      await runUntil(farm, evening + 12 * hourMs, all);
      expect(standing(farm)).toEqual([]);
      expect(over(farm).map(({ ruleId }) => ruleId)).toEqual(['everything-silent']);
    },
    120_000,
  );
});

describe('a sensor that is taken off its nuc', () => {
  it('takes its alert along', async () => {
    const { farm, ids } = await farmOf(2);
    await runUntil(farm, evening, (nowMs) => ids.flatMap((id) => fromDevice(`box-${id}`, nowMs)));
    await runUntil(farm, evening + 5 * hourMs, (nowMs) => fromDevice('box-nuc-2', nowMs));
    expect(standing(farm)).toHaveLength(1);
    const { store, nowMs } = farm;
    for (const { id, channelId } of store.places.listAssignments()) {
      if (store.channels.get(channelId)?.sensor === 'box-nuc-1')
        store.places.changeAssignment(id, { toMs: nowMs });
    }
    farm.farm.watch.setupChanged(nowMs);
    await runUntil(farm, evening + 6 * hourMs, (at) => fromDevice('box-nuc-2', at));
    expect(standing(farm)).toEqual([]);
    expect(told(farm).at(-1)).toBe('all-clear sensor-silent');
  }, 60_000);
});
