/** The whole path on the built server: a device publishes, the reading is stored, served and shown. */
import { connectAsync, type MqttClient } from 'mqtt';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { ResponseOf } from '../../server/contract/index.ts';
import { openStore } from '../../server/store/store.ts';
import { join } from 'node:path';
import { dropFolder, startServer, type RunningServer } from '../support/server-process.ts';
import { until } from '../support/until.ts';

type Channels = ResponseOf<'listChannels'>;
type Readings = ResponseOf<'getReadings'>;

const channel = async (server: RunningServer, sensor: string, quantity: string) =>
  (await server.get<Channels>('/api/v1/channels')).items.find(
    (one) => one.sensor === sensor && one.quantity === quantity,
  );

describe('a reading on its way through the server', () => {
  let server: RunningServer;
  let device: MqttClient;
  beforeAll(async () => {
    server = await startServer();
    device = await connectAsync(server.mqtt);
  });
  afterAll(async () => {
    await device.endAsync(true);
    await server.stop();
    dropFolder(server.data);
  });

  it('is ready and describes its API', async () => {
    expect(await server.get('/healthz')).toEqual({ ready: true });
    const api = await server.get<{ openapi: string; paths: Record<string, unknown> }>('/api/v1/openapi.json');
    expect(api.openapi).toMatch(/^3\.1/);
    expect(Object.keys(api.paths).join(' ')).toContain('/channels');
  });

  it('appears as a channel as soon as it is acknowledged, unassigned, with its value', async () => {
    await device.publishAsync('welcomb/scale-7/weight', '12.437', { qos: 1 });
    const found = await channel(server, 'scale-7', 'weight');
    expect(found).toMatchObject({ unit: 'kg', assignment: null, latest: { value: 12.437, suspect: false } });
  });

  it('keeps its own time and converts its unit', async () => {
    const time = new Date(Date.now() - 3_600_000).toISOString();
    await device.publishAsync(
      'welcomb/probe-7/temperature',
      JSON.stringify({ value: 93.2, time, unit: '°F' }),
      { qos: 1 },
    );
    const found = await channel(server, 'probe-7', 'temperature');
    const { items } = await server.get<Readings>(
      `/api/v1/channels/${String(found?.id)}/readings?resolution=raw&from=${encodeURIComponent(time)}`,
    );
    expect(items).toEqual([{ time, value: 34 }]);
  });

  it('reaches a nuc’s page once it is assigned', async () => {
    await server.send('POST', '/api/v1/sites', {
      id: 'home',
      name: 'Home',
      timeZone: 'Europe/Berlin',
      latDeg: 50,
      lonDeg: 10,
    });
    await server.send('POST', '/api/v1/hives', {
      id: 'nuc-one',
      name: 'Nuc one',
      siteId: 'home',
      role: 'nuc',
    });
    const found = await channel(server, 'scale-7', 'weight');
    const from = new Date(Date.now() - 86_400_000).toISOString();
    await server.send('POST', '/api/v1/assignments', {
      channelId: found?.id,
      hiveId: 'nuc-one',
      place: 'scale',
      from,
    });
    const nuc = await server.get<ResponseOf<'getNuc'>>('/api/v1/nucs/nuc-one');
    expect(nuc.latest.scale).toMatchObject({ value: 12.437, unit: 'kg' });
    const chart = await server.get<ResponseOf<'getNucChart'>>('/api/v1/nucs/nuc-one/chart');
    expect(chart.series.find(({ place }) => place === 'scale')?.points.map((point) => point[1])).toContain(
      12.437,
    );
  });

  it.each([
    { what: 'an unreadable payload', topic: 'welcomb/odd/weight', payload: 'heavy', reason: /heavy|number/ },
    {
      what: 'an unknown unit',
      topic: 'welcomb/odd/weight',
      payload: '{"value":1,"unit":"stone"}',
      reason: /unit "stone"/,
    },
    {
      what: 'an impossible time',
      topic: 'welcomb/odd/weight',
      payload: '{"value":1,"time":"yesterday-ish"}',
      reason: /time/,
    },
    { what: 'not a number', topic: 'welcomb/odd/weight', payload: '{"value":null}', reason: /value/ },
    { what: 'an unknown quantity', topic: 'welcomb/odd/happiness', payload: '7', reason: /happiness/ },
  ])('puts $what into the quarantine with the reason, and stays up', async ({ topic, payload, reason }) => {
    await device.publishAsync(topic, payload, { qos: 1 });
    const quarantine = await until(async () => {
      const { items } = await server.get<ResponseOf<'listQuarantine'>>('/api/v1/quarantine');
      return items.find((item) => item.topic === topic && item.payloadText === payload);
    });
    expect(quarantine.reason).toMatch(reason);
    expect(await server.get('/healthz')).toEqual({ ready: true });
  });

  it('refuses a message of ten megabytes by name and goes on serving others', async () => {
    const rude = await connectAsync(server.mqtt, { reconnectPeriod: 0 });
    rude.on('error', () => undefined);
    const closed = new Promise<void>((resolve) =>
      rude.once('close', () => {
        resolve();
      }),
    );
    rude.publish('welcomb/rude/weight', Buffer.alloc(10_000_000, 'x'), { qos: 1 });
    await Promise.race([closed, new Promise((resolve) => setTimeout(resolve, 3000))]);
    await rude.endAsync(true);
    const quarantine = await until(async () => {
      const { items } = await server.get<ResponseOf<'listQuarantine'>>('/api/v1/quarantine');
      return items.find((item) => item.topic === 'welcomb/rude/weight');
    });
    expect(quarantine.reason).toMatch(/large|bytes|KiB|size/i);
    await device.publishAsync('welcomb/scale-7/weight', '12.5', { qos: 1 });
    expect((await channel(server, 'scale-7', 'weight'))?.latest?.value).toBe(12.5);
  });

  it('answers bad questions with problem details that name what is wrong', async () => {
    const response = await fetch(new URL('/api/v1/channels/1/readings?resolution=fortnight', server.http));
    expect(response.status).toBe(400);
    expect(response.headers.get('content-type')).toContain('application/problem+json');
    expect(await response.json()).toMatchObject({
      status: 400,
      errors: [{ pointer: expect.stringContaining('resolution') as string }],
    });
  });
});

describe('a server that is killed', () => {
  it('has every acknowledged reading in its store', async () => {
    const server = await startServer();
    try {
      const device = await connectAsync(server.mqtt, { reconnectPeriod: 0 });
      device.on('error', () => undefined);
      for (let i = 0; i < 50; i += 1)
        await device.publishAsync(
          'welcomb/last/weight',
          JSON.stringify({ value: i, time: Math.floor(Date.now() / 1000) - 50 + i }),
          { qos: 1 },
        );
      await server.kill();
      await device.endAsync(true);
      const store = openStore({ file: join(server.data, 'welcomb.db'), readonly: true });
      try {
        const [only] = store.channels.list();
        expect(store.readings.series(only?.id ?? 0, 0, Infinity).value).toEqual(
          Float64Array.from({ length: 50 }, (_, i) => i),
        );
      } finally {
        store.close();
      }
    } finally {
      dropFolder(server.data);
    }
  });

  it('stops cleanly when asked to', async () => {
    const server = await startServer();
    expect(await server.stop()).toBe(0);
    dropFolder(server.data);
  });
});
