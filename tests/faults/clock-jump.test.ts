/** The server's clock stands in 1970, is set, and is set back by an hour: what is acknowledged is stored, once. */
import { pino } from 'pino';
import { connectAsync, type MqttClient } from 'mqtt';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { runServer, type Running } from '../../server/run.ts';
import { parseSettings } from '../../server/settings.ts';
import { dropFolder, newFolder } from '../support/server-process.ts';

const folder = newFolder();
/** Five minutes after a small board without a battery clock has started. */
const boot = 5 * 60_000;
const noon = Date.UTC(2026, 4, 14, 12);
const hour = 3_600_000;
let nowMs = boot;
let server: Running;
let device: MqttClient;

beforeAll(async () => {
  const parsed = parseSettings(
    ['--data', folder, '--http', '127.0.0.1:0', '--mqtt', '127.0.0.1:0'],
    {},
    () => '',
  );
  if (!parsed.ok) throw new Error(parsed.message);
  server = await runServer(parsed.settings, { clock: () => nowMs, log: pino({ level: 'silent' }) });
  device = await connectAsync(server.mqtt);
});
afterAll(async () => {
  await device.endAsync(true);
  await server.stop();
  dropFolder(folder);
});

const send = (quantity: string, payload: unknown) =>
  device.publishAsync(`welcomb/n1/${quantity}`, JSON.stringify(payload), { qos: 1 });
function stored(quantity: string) {
  const channel = server.store.channels.list().find((one) => one.quantity === quantity);
  if (!channel) return [];
  const { atMs, value } = server.store.readings.series(channel.id, 0, Date.UTC(2100, 0, 1));
  return Array.from(atMs, (at, i) => [at, value[i]]);
}
const status = async (): Promise<unknown> => (await fetch(`${server.http}/api/v1/status`)).json();

test('while the clock was never set, a sensor that knows the time is believed, and one that does not is flagged', async () => {
  await send('temperature', { value: 34.5, time: new Date(noon - hour).toISOString() });
  await send('humidity', 55);
  expect(stored('temperature')).toEqual([[noon - hour, 34.5]]);
  const humidity = server.store.channels.list().find(({ quantity }) => quantity === 'humidity');
  const span = { channelId: humidity!.id, fromMs: 0, toMs: hour, resolution: 'raw' } as const;
  expect(Array.from(server.store.readings.query({ ...span, includeSuspect: true }).atMs)).toEqual([boot]);
  expect(server.store.readings.query(span).atMs).toHaveLength(0);
  expect(await status()).toMatchObject({ ready: true });
});

test('after it is set and set back, every acknowledged reading is there once, and the server goes on', async () => {
  nowMs = noon;
  await send('temperature', 34.6);
  nowMs = noon + 10 * 60_000;
  await send('temperature', 34.7);
  nowMs = noon - hour / 2;
  await send('temperature', 34.8);
  await send('temperature', { value: 34.8, time: new Date(noon - hour / 2).toISOString() });
  expect(stored('temperature')).toEqual([
    [noon - hour, 34.5],
    [noon - hour / 2, 34.8],
    [noon, 34.6],
    [noon + 10 * 60_000, 34.7],
  ]);
  expect(await status()).toMatchObject({ ready: true });
  // Nothing on this farm is wrong: no alert may come out of the clock alone.
  const open = server.store.alerts.list().filter((alert) => alert.open);
  expect(open.map(({ ruleId }) => ruleId)).toEqual([]);
});
