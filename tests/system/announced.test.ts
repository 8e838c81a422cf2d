/**
 * A sensor that says once what it sends: from the acknowledgement of its announcement on it is understood, by a server
 * that was killed in between as well.
 */
import { connectAsync } from 'mqtt';
import { afterEach, expect, test } from 'vitest';
import type { ResponseOf } from '../../server/contract/index.ts';
import { dropFolder, newFolder, startServer, type RunningServer } from '../support/server-process.ts';
import { until } from '../support/until.ts';

const folders: string[] = [];
afterEach(() => {
  for (const folder of folders.splice(0)) dropFolder(folder);
});

async function say(server: RunningServer, topic: string, message: object | number, retain = false) {
  const device = await connectAsync(server.mqtt);
  await device.publishAsync(topic, JSON.stringify(message), { qos: 1, retain });
  await device.endAsync(true);
}

const sensors = async (server: RunningServer): Promise<string[]> => {
  const { items } = await server.get<ResponseOf<'listChannels'>>('/api/v1/channels');
  return items.map(({ sensor, latest }) => `${sensor} ${String(latest?.value)}`);
};

test('its announcement is known after kill -9, and its withdrawal, too', { timeout: 60_000 }, async () => {
  const data = newFolder();
  folders.push(data);
  const config = 'hub/sensor/n1/weight/config';
  const first = await startServer({ data });
  await say(first, config, { stat_t: 'box/n1', unit_of_meas: 'kg', dev: { ids: ['n1'] } }, true);
  await first.kill();

  const second = await startServer({ data });
  await say(second, 'box/n1', 12.5);
  expect(await sensors(second)).toEqual(['n1 12.5']);
  const device = await connectAsync(second.mqtt);
  await device.publishAsync(config, '', { qos: 1, retain: true });
  await device.endAsync(true);
  await second.kill();

  const third = await startServer({ data });
  await say(third, 'box/n1', 13);
  expect(await sensors(third)).toEqual(['n1 12.5']);
  await until(async () => {
    const { items } = await third.get<ResponseOf<'listQuarantine'>>('/api/v1/quarantine');
    return items.some(({ topic }) => topic === 'box/n1') || undefined;
  });
  await third.stop();
});
