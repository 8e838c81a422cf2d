import mqtt from 'mqtt';
import { afterEach, describe, expect, test } from 'vitest';
import { startIngest, type Ingest, type IngestOptions } from '../../ingest/ingest.ts';
import type { Mapping } from '../../ingest/decode/mapping-schema.ts';
import { missing, mosquitto } from '../support/programs.ts';
import { memoryPort } from './support/memory-port.ts';
import { startMosquitto, type RunningMosquitto } from './support/mosquitto.ts';
import { until } from './support/until.ts';

const ingests: Ingest[] = [];
const brokers: RunningMosquitto[] = [];
const clients: mqtt.MqttClient[] = [];
afterEach(async () => {
  for (const client of clients.splice(0)) await client.endAsync(true);
  for (const ingest of ingests.splice(0)) await ingest.stop();
  for (const broker of brokers.splice(0)) await broker.remove();
});

const silent = { info: () => undefined, warn: () => undefined, error: () => undefined };

async function start(url: string, more: Partial<IngestOptions> = {}) {
  const port = memoryPort();
  const ingest = await startIngest({
    port,
    broker: { kind: 'outside', url, clientId: 'welcomb-test' },
    clock: Date.now,
    logger: silent,
    limits: { retryMs: 20, reconnectMs: 50, maxReconnectMs: 100 },
    ...more,
  });
  ingests.push(ingest);
  return { port, ingest };
}

async function broker(inMemory = false): Promise<RunningMosquitto> {
  const started = await startMosquitto(inMemory);
  brokers.push(started);
  return started;
}

async function device(url: string): Promise<mqtt.MqttClient> {
  const client = await mqtt.connectAsync(url);
  clients.push(client);
  return client;
}

const valuesIn = (port: ReturnType<typeof memoryPort>): number[] =>
  port.batches.flatMap((batch) => batch.readings.map(({ value }) => value));

const shed: Mapping = {
  name: 'shed',
  topic: 'shed/+sensor/w',
  sensor: { level: 'sensor' },
  values: [{ quantity: 'weight', unit: 'g', probe: '', factor: 1, optional: false }],
};

describe.skipIf(missing('mosquitto', mosquitto))('a broker that the keeper has', () => {
  test('readings that came while the server was away are delivered when it is back', async () => {
    const { url } = await broker();
    const first = await start(url);
    await until(() => first.ingest.status().connected);
    const client = await device(url);
    await client.publishAsync('welcomb/scale-1/weight', '10.5', { qos: 1 });
    await until(() => valuesIn(first.port).length === 1);
    await first.ingest.stop();
    ingests.splice(0);
    for (const value of [11, 12, 13]) {
      await client.publishAsync('welcomb/scale-1/weight', String(value), { qos: 1 });
    }
    const second = await start(url);
    await until(() => valuesIn(second.port).length === 3);
    expect(valuesIn(second.port)).toEqual([11, 12, 13]);
  });

  test('while nothing can be stored nothing is acknowledged, and a restart of the server gets it all', async () => {
    const { url } = await broker();
    const first = await start(url);
    await until(() => first.ingest.status().connected);
    first.port.failure = new Error('disk full');
    const client = await device(url);
    for (const value of [1, 2, 3])
      await client.publishAsync('welcomb/scale-1/weight', String(value), { qos: 1 });
    await until(() => first.ingest.status().store.state === 'unavailable');
    await first.ingest.stop();
    ingests.splice(0);
    const second = await start(url);
    await until(() => valuesIn(second.port).length === 3);
    expect(valuesIn(second.port)).toEqual([1, 2, 3]);
  });

  test('no more is under way than is asked for, and all of it comes when it can be stored', async () => {
    const { url } = await broker(true);
    const limits = { retryMs: 20, maxRetryMs: 50, receiveMaximum: 10 };
    const { port, ingest } = await start(url, { limits });
    await until(() => ingest.status().connected);
    port.failure = new Error('disk full');
    const client = await device(url);
    const values = Array.from({ length: 30 }, (_, at) => at + 1);
    for (const value of values)
      await client.publishAsync('welcomb/scale-1/weight', String(value), { qos: 1 });
    await until(() => ingest.status().pending === 10);
    await new Promise((resolve) => setTimeout(resolve, 200));
    expect(ingest.status().pending).toBe(10);
    port.failure = undefined;
    await until(() => valuesIn(port).length === 30);
    expect(valuesIn(port)).toEqual(values);
  });

  test('messages at QoS 0 are stored', async () => {
    const { url } = await broker(true);
    const { port, ingest } = await start(url);
    await until(() => ingest.status().connected);
    const client = await device(url);
    await until(async () => {
      await client.publishAsync('welcomb/scale-1/weight', '12.5', { qos: 0 });
      return valuesIn(port).length > 0;
    });
  });

  test('a message at QoS 0 outlives its connection while nothing can be stored: it does not come again', async () => {
    const running = await broker(true);
    const { port, ingest } = await start(running.url);
    await until(() => ingest.status().connected);
    port.failure = new Error('disk full');
    const client = await device(running.url);
    await until(async () => {
      await client.publishAsync('welcomb/scale-1/weight', '12.5', { qos: 0 });
      return ingest.status().pending > 0;
    });
    const held = ingest.status().pending;
    await running.stop();
    await until(() => !ingest.status().connected);
    expect(ingest.status().pending).toBeGreaterThanOrEqual(held);
    port.failure = undefined;
    await until(() => valuesIn(port).length >= held);
  });

  test('it connects again by itself and subscribes again where the session was lost', async () => {
    const running = await broker(true);
    const { port, ingest } = await start(running.url);
    await until(() => ingest.status().connected);
    await running.stop();
    await until(() => !ingest.status().connected);
    expect(ingest.status().detail).toContain('not connected');
    await running.start();
    await until(() => ingest.status().connected);
    const client = await device(running.url);
    await until(async () => {
      await client.publishAsync('welcomb/scale-1/weight', '12.5', { qos: 1 });
      return valuesIn(port).length > 0;
    });
  });

  test('retained values are last known, not readings; the server says online and, when it goes, offline', async () => {
    const { url } = await broker();
    const client = await device(url);
    await client.publishAsync('welcomb/probe-1/temperature', '34.5', { qos: 1, retain: true });
    const { port, ingest } = await start(url);
    await until(() => port.batches.length > 0);
    expect(port.batches.flatMap((batch) => batch.lastKnown)).toMatchObject([
      { sensor: 'probe-1', value: 34.5 },
    ]);
    expect(valuesIn(port)).toEqual([]);
    const said: string[] = [];
    client.on('message', (_topic, payload) => said.push(payload.toString()));
    await client.subscribeAsync('welcomb/$server/online', { qos: 1 });
    await until(() => said.length === 1);
    await ingest.stop();
    ingests.splice(0);
    await until(() => said.length === 2);
    expect(said).toEqual(['true', 'false']);
  });

  test('a mapping’s topic is subscribed to as soon as it is set', async () => {
    const { url } = await broker();
    const { port, ingest } = await start(url);
    await until(() => ingest.status().connected);
    ingest.setMappings([shed]);
    const client = await device(url);
    await until(async () => {
      await client.publishAsync('shed/left/w', '12500', { qos: 1 });
      return valuesIn(port).length > 0;
    });
    expect(valuesIn(port)[0]).toBe(12.5);
  });

  test.each(['connected', 'away'])(
    'the topic of a mapping that was removed while the broker was %s is not heard any more',
    async (state) => {
      const running = await broker();
      const { port, ingest } = await start(running.url, { mappings: () => [shed] });
      await until(() => ingest.status().connected);
      if (state === 'away') {
        await running.stop();
        await until(() => !ingest.status().connected);
      }
      ingest.setMappings([]);
      if (state === 'away') {
        await running.start();
        await until(() => ingest.status().connected);
      }
      // On the same connection, so that the broker has done by then what it was asked before.
      await ingest.publish('elsewhere', '1', { retain: false });
      const client = await device(running.url);
      await client.publishAsync('shed/left/w', '12500', { qos: 1 });
      await client.publishAsync('welcomb/scale-1/weight', '12.5', { qos: 1 });
      await until(() => valuesIn(port).length > 0);
      expect(valuesIn(port)).toEqual([12.5]);
      expect(port.batches.flatMap((batch) => batch.quarantined)).toEqual([]);
    },
  );

  test('a 10 MB message is quarantined with its size and does not stop the others', async () => {
    const { url } = await broker();
    const { port, ingest } = await start(url);
    await until(() => ingest.status().connected);
    const client = await device(url);
    await client.publishAsync('welcomb/scale-1/weight', Buffer.alloc(10_000_000, 0x31), { qos: 1 });
    await client.publishAsync('welcomb/scale-1/weight', '12.5', { qos: 1 });
    await until(() => valuesIn(port).length === 1);
    expect(port.batches.flatMap((batch) => batch.quarantined)).toMatchObject([
      {
        topic: 'welcomb/scale-1/weight',
        payloadBytes: 10_000_000,
        reason: expect.stringContaining('10000000'),
      },
    ]);
  });
});
