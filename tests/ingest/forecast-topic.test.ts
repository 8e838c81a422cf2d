/** A forecast published over MQTT, all the way: into the night ahead, shown where it stands, or into the quarantine with the reason. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { connectAsync, type MqttClient } from 'mqtt';
import { pino } from 'pino';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { Status } from '../../server/contract/server.ts';
import { decodeOwnTopic } from '../../ingest/decode/own-topics.ts';
import { runServer, type Running } from '../../server/run.ts';
import { parseSettings } from '../../server/settings.ts';

const data = mkdtempSync(join(tmpdir(), 'welcomb-forecast-'));
let running: Running;
let client: MqttClient;
const hours = (from: number) =>
  Array.from({ length: 30 }, (_, i) => ({
    time: new Date(from + i * 3_600_000).toISOString(),
    temperature: 9 - i / 5,
  }));

const get = async <T>(path: string): Promise<T> =>
  (await (await fetch(`${running.http}/api/v1${path}`)).json()) as T;
const quarantine = async () =>
  (await get<{ items: { topic: string; reason: string }[] }>('/quarantine')).items.map(
    ({ topic, reason }) => `${topic}: ${reason}`,
  );

beforeAll(async () => {
  const parsed = parseSettings(
    ['--data', data, '--http', '127.0.0.1:0', '--mqtt', '127.0.0.1:0'],
    {},
    () => '',
  );
  if (!parsed.ok) throw new Error(parsed.message);
  running = await runServer(parsed.settings, { log: pino({ level: 'silent' }) });
  const site = { id: 's1', name: 'Lower Orchard', latDeg: 50, lonDeg: 10, timeZone: 'Europe/Berlin' };
  running.store.places.putSite(site);
  client = await connectAsync(running.mqtt);
}, 60_000);

afterAll(async () => {
  await client.endAsync();
  await running.stop();
  rmSync(data, { recursive: true, force: true });
});

it('is taken, says where it came from and how old it is, and is no reading', async () => {
  const issued = new Date(Date.now() - 60_000).toISOString();
  const payload = JSON.stringify({ issued, hours: hours(Date.now() - 3_600_000) });
  await client.publishAsync('welcomb/$forecast/Lower Orchard', payload, { qos: 1, retain: true });
  const { forecasts, ingest } = await get<Status>('/status');
  expect(forecasts).toEqual([
    { site: 'Lower Orchard', host: 'welcomb/$forecast/Lower Orchard', at: issued, problem: null },
  ]);
  expect(ingest.stored).toBe(0);
  expect(await quarantine()).toEqual([]);
  expect(running.store.channels.list()).toEqual([]);
});

it('goes to the quarantine with the reason where it is none, and the one before still counts', async () => {
  const before = (await get<Status>('/status')).forecasts;
  await client.publishAsync('welcomb/$forecast', '{"tonight": 3}', { qos: 1, retain: true });
  await client.publishAsync('welcomb/$forecast/Valley', JSON.stringify(hours(Date.now())), { qos: 1 });
  expect((await quarantine()).sort()).toEqual([
    expect.stringMatching(
      /\/Valley: a forecast for a site that there is not: “Valley”; there is “Lower Orchard”/,
    ),
    expect.stringMatching(/^welcomb\/\$forecast: this forecast can’t be used: at issued/),
  ]);
  expect((await get<Status>('/status')).forecasts).toEqual(before);
});

it('is not mistaken for a sensor where nobody takes forecasts', () => {
  const message = { topic: 'welcomb/$forecast', payload: new Uint8Array(), retain: false, receivedAtMs: 0 };
  expect(decodeOwnTopic(message)).toMatchObject({ readings: [], ignored: 'a forecast, which is no reading' });
});
