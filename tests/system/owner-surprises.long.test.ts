/**
 * What surprised owners, on the whole server with a clock that the test sets: real MQTT, HTTP, mail and webhook, over
 * days in which one channel can't be reached.
 */
import { connectAsync } from 'mqtt';
import { pino } from 'pino';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { ResponseOf } from '../../server/contract/index.ts';
import { runServer, type Running } from '../../server/run.ts';
import { parseSettings } from '../../server/settings.ts';
import { mailServer, type MailBox } from '../notify/loopback.ts';
import { freePort } from '../support/free-port.ts';
import { dropFolder, newFolder } from '../support/server-process.ts';

const minuteMs = 60_000;
const hourMs = 60 * minuteMs;
const startMs = Date.UTC(2031, 4, 10, 8);
const deviceName = 'Elm 3, brood';
const devEui = '0101010101010101';
const page = 'https://bees.example.org';

const data = newFolder();
const logged: string[] = [];
let nowMs = startMs;
let server: Running;
let mailBox: MailBox;

async function ask(method: string, path: string, body?: unknown): Promise<Response> {
  return fetch(`${server.http}/api/v1${path}`, {
    method,
    headers: { 'content-type': 'application/json', origin: new URL(server.http).origin },
    ...(body === undefined ? {} : { body: JSON.stringify(body) }),
  });
}
async function get<T>(path: string): Promise<T> {
  return (await (await ask('GET', path)).json()) as T;
}
async function put(method: string, path: string, body: unknown): Promise<void> {
  const answer = await ask(method, path, body);
  expect(`${path}: ${answer.ok ? '' : await answer.text()}`).toBe(`${path}: `);
}
async function publish(messages: readonly (readonly [topic: string, payload: unknown])[]): Promise<void> {
  const device = await connectAsync(server.mqtt);
  for (const [topic, payload] of messages)
    await device.publishAsync(topic, typeof payload === 'string' ? payload : JSON.stringify(payload), {
      qos: 1,
    });
  await device.endAsync();
}
/** What the scale sends, and the server’s minute with it. */
async function hours(count: number, kg: number, everyMs = 10 * minuteMs): Promise<void> {
  for (let i = 0; i < (count * hourMs) / everyMs; i += 1) {
    nowMs += everyMs;
    await publish([['welcomb/box/weight', { value: kg + (i % 7) / 1000, time: nowMs }]]);
    await server.minute();
  }
}

beforeAll(async () => {
  mailBox = await mailServer('secret');
  const parsed = parseSettings(
    ['--data', data, '--http', '127.0.0.1:0', '--mqtt', '127.0.0.1:0'],
    {},
    () => '',
  );
  if (!parsed.ok) throw new Error(parsed.message);
  const log = pino({ level: 'warn' }, { write: (line: string) => logged.push(line) });
  server = await runServer(parsed.settings, { clock: () => nowMs, log });
  const { farm } = await get<{ farm: object }>('/me');
  await put('PUT', '/settings/farm', { ...farm, publicAddress: page });
  const urgencies = ['now', 'today', 'next-visit'];
  await put('PUT', '/settings/tellings/mail', {
    name: 'Evening mail',
    kind: 'mail',
    urgencies,
    address: `smtp://127.0.0.1:${String(mailBox.port)}/keeper@example.org`,
  });
  await put('PUT', '/settings/tellings/hub', {
    name: 'Garden hub',
    kind: 'webhook',
    urgencies,
    address: `http://127.0.0.1:${String(await freePort())}/hook`,
  });
  await put('POST', '/sites', {
    id: 'field',
    name: 'Field',
    timeZone: 'Europe/Berlin',
    latDeg: 50,
    lonDeg: 10,
  });
  await put('POST', '/hives', { id: 'one', name: 'Nuc one', siteId: 'field', role: 'nuc' });
}, 60_000);
afterAll(async () => {
  await server.stop();
  await mailBox.close();
  dropFolder(data);
});

describe('what a sensor says', () => {
  it('a bare battery of 3.6 is volts, and an uplink’s name names its channel', async () => {
    await publish([
      ['welcomb/box/battery', '3.6'],
      ['welcomb/box/weight', '12.4'],
      [
        'application/1/device/x/event/up',
        {
          deviceInfo: { deviceName, devEui },
          devAddr: '00189440',
          fCnt: 1,
          data: 'AQ==',
          object: { temperature: 34.1 },
        },
      ],
    ]);
    const { items } = await get<ResponseOf<'listChannels'>>('/channels');
    expect(items.find(({ quantity }) => quantity === 'battery')).toMatchObject({
      unit: 'V',
      latest: { value: 3.6 },
    });
    expect(items.find(({ sensor }) => sensor === devEui)).toMatchObject({ name: deviceName });
    const scale = items.find(({ quantity }) => quantity === 'weight');
    const from = new Date(startMs - hourMs).toISOString();
    await put('POST', '/assignments', { channelId: scale?.id, hiveId: 'one', place: 'scale', from });
  });
});

describe('a box that is gone while one of two channels can’t be reached', () => {
  it('is mailed, with a link to its page, and again until it is seen', async () => {
    await hours(12, 12.4);
    await hours(2, 0);
    const { items } = await get<ResponseOf<'listAlerts'>>('/alerts');
    expect(items).toMatchObject([{ ruleId: 'box-gone', urgency: 'now' }]);
    expect(mailBox.received.map((mail) => /^Subject: (.*)$/m.exec(mail)?.[1]?.trim())).toEqual([
      'Now: Box gone from its scale, Nuc one',
      'Now: Box gone from its scale, Nuc one (reminder)',
    ]);
    expect(mailBox.received[0]).toContain(`${page}/#/nucs/one`);
  }, 120_000);

  it('is shown as not sent by the other, with that channel’s name, and no look at the nucs failed', async () => {
    const { untold } = await get<ResponseOf<'status'>>('/status');
    expect(untold).toMatchObject([{ to: 'Garden hub' }]);
    expect(untold[0]?.gaveUp ?? false).toBe(false);
    expect(logged.filter((line) => line.includes('Evaluating'))).toEqual([]);
  });

  it('is still shown once that channel gave up on it after three days', async () => {
    await hours(76, 0, hourMs);
    const { untold } = await get<ResponseOf<'status'>>('/status');
    expect(untold[0]).toMatchObject({ to: 'Garden hub', gaveUp: true });
    expect(untold[0]?.problem).not.toBe('');
    expect(logged.filter((line) => line.includes('Evaluating'))).toEqual([]);
  }, 120_000);

  it('the try-out of that channel says what is wrong with it, and that of the other goes out', async () => {
    const before = mailBox.received.length;
    const answer = await (await ask('POST', '/settings/tellings/hub/try')).json();
    expect(answer).toMatchObject({ ok: false });
    expect(await (await ask('POST', '/settings/tellings/mail/try')).json()).toMatchObject({ ok: true });
    expect(mailBox.received).toHaveLength(before + 1);
  });
});
