import mqtt from 'mqtt';
import { afterEach, expect, test } from 'vitest';
import { startIngest, type Ingest } from '../../ingest/ingest.ts';
import { memoryPort } from './support/memory-port.ts';
import { until } from './support/until.ts';

const open: Ingest[] = [];
const clients: mqtt.MqttClient[] = [];
afterEach(async () => {
  for (const client of clients.splice(0)) await client.endAsync(true);
  for (const ingest of open.splice(0)) await ingest.stop();
});

const silent = { info: () => undefined, warn: () => undefined, error: () => undefined };
const nobody = { devices: [], isPassword: () => Promise.resolve(false) };

async function start(port = memoryPort()) {
  const broker = {
    kind: 'embedded',
    host: '127.0.0.1',
    port: 0,
    devices: nobody,
    allowAnonymous: true,
  } as const;
  const ingest = await startIngest({
    port,
    broker,
    clock: Date.now,
    logger: silent,
    limits: { retryMs: 20 },
  });
  open.push(ingest);
  const client = await mqtt.connectAsync(`mqtt://127.0.0.1:${String(ingest.address.port)}`);
  clients.push(client);
  return { port, ingest, client };
}

test('a QoS 1 reading is acknowledged after its commit', async () => {
  const { port, client } = await start();
  await client.publishAsync('welcomb/scale-1/weight', '12.437', { qos: 1 });
  expect(port.batches.flatMap((batch) => batch.readings)).toMatchObject([
    { sensor: 'scale-1', quantity: 'weight', probe: '', unit: 'kg', value: 12.437 },
  ]);
});

test('while nothing can be stored there is no acknowledgement, and it comes by itself afterwards', async () => {
  const { port, client, ingest } = await start();
  port.failure = new Error('disk full.');
  let acknowledged = false;
  const published = client.publishAsync('welcomb/scale-1/weight', '12.5', { qos: 1 }).then(() => {
    acknowledged = true;
  });
  await until(() => port.attempts > 1);
  expect(acknowledged).toBe(false);
  expect(ingest.status().store).toMatchObject({
    state: 'unavailable',
    detail: expect.stringContaining('disk full'),
  });
  port.failure = undefined;
  await published;
  expect(ingest.status().store.state).toBe('ok');
  expect(port.batches).toHaveLength(1);
});

test('what can’t be read is acknowledged and quarantined with its reason', async () => {
  const { port, client } = await start();
  await client.publishAsync('welcomb/scale-1/weight', 'NaN', { qos: 1 });
  expect(port.batches.flatMap((batch) => batch.quarantined)).toMatchObject([
    { topic: 'welcomb/scale-1/weight', payloadBytes: 3, reason: expect.stringContaining('NaN') },
  ]);
});

test('who subscribes, early or late, gets every message from then on', async () => {
  const { client, ingest } = await start();
  await client.publishAsync('welcomb/scale-1/weight', '12.1', { qos: 1 });
  const hub = await mqtt.connectAsync(`mqtt://127.0.0.1:${String(ingest.address.port)}`);
  clients.push(hub);
  const heard: string[] = [];
  hub.on('message', (_topic, payload) => heard.push(payload.toString()));
  await hub.subscribeAsync('welcomb/+/weight', { qos: 1 });
  await client.publishAsync('welcomb/scale-1/weight', '12.2', { qos: 1 });
  await client.publishAsync('welcomb/scale-1/weight', '12.3', { qos: 0 });
  await until(() => heard.length === 2);
  expect(heard).toEqual(['12.2', '12.3']);
});

test('what a device retains is kept for who subscribes later, though nobody listened then', async () => {
  const { client, ingest } = await start();
  await client.publishAsync('welcomb/scale-1/weight', '12.1', { qos: 1, retain: true });
  const hub = await mqtt.connectAsync(`mqtt://127.0.0.1:${String(ingest.address.port)}`);
  clients.push(hub);
  const heard: string[] = [];
  hub.on('message', (_topic, payload) => heard.push(payload.toString()));
  await hub.subscribeAsync('welcomb/scale-1/#');
  await until(() => heard.length === 1);
  expect(heard).toEqual(['12.1']);
});
