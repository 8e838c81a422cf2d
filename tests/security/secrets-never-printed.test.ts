/**
 * Every secret that a keeper can give, given; everything that uses one, made to fail; and then all that the server says
 * read through: its log, every answer without a name in its path, what was changed, the export.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pino } from 'pino';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { operations, type Operation } from '../../server/contract/index.ts';
import type { NotificationChannel } from '../../server/contract/notifications.ts';
import { farmSettings, notificationChannels } from '../../server/farm/settings.ts';
import { beat } from '../../server/notify/heartbeat.ts';
import { runServer, type Running } from '../../server/run.ts';
import { parseSettings } from '../../server/settings.ts';
import { hookServer, mailServer, type Hook, type MailBox } from '../notify/loopback.ts';

const secret = {
  mail: 'MARK-smtp-password',
  webhook: 'MARK-webhook-token',
  broker: 'MARK-broker-password',
  heartbeat: 'MARK-heartbeat-token',
  forecast: 'MARK-forecast-key',
  hookPath: 'MARK-webhook-path',
  device: 'MARK-device-password',
};

let running: Running;
let mail: MailBox;
let hook: Hook;
let heartbeatUrl = '';
let forecastUrl = '';
let hookUrl = '';
const log: string[] = [];
const answers: string[] = [];
const data = mkdtempSync(join(tmpdir(), 'welcomb-secrets-'));

async function ask(method: string, path: string, body?: unknown): Promise<{ status: number; text: string }> {
  const response = await fetch(`${running.http}/api/v1${path}`, {
    method,
    headers: { 'content-type': 'application/json', origin: new URL(running.http).origin },
    ...(body === undefined ? {} : { body: JSON.stringify(body) }),
  });
  const text = await response.text();
  answers.push(`${method} ${path} ${String(response.status)} ${text}`);
  return { status: response.status, text };
}

const farmNow = async (): Promise<Record<string, unknown>> =>
  JSON.parse((await ask('GET', '/settings/farm')).text) as Record<string, unknown>;

/** A broker that hangs up: its password is asked for and of no use. */
async function deafBroker(): Promise<{ url: string; close(): void }> {
  const server = createServer((socket) => socket.destroy());
  await new Promise<void>((listening) => server.listen(0, '127.0.0.1', listening));
  const { port } = server.address() as AddressInfo;
  return { url: `mqtt://127.0.0.1:${String(port)}`, close: () => void server.close() };
}

let broker: Awaited<ReturnType<typeof deafBroker>>;

beforeAll(async () => {
  mail = await mailServer('another-password');
  hook = await hookServer();
  hook.status = 500;
  broker = await deafBroker();
  heartbeatUrl = `${new URL(hook.url).origin}/ping/${secret.heartbeat}?key=${secret.heartbeat}`;
  forecastUrl = `${new URL(hook.url).origin}/hours?lat={lat}&lon={lon}&key=${secret.forecast}`;
  hookUrl = `${new URL(hook.url).origin}/hook/${secret.hookPath}?token=${secret.hookPath}`;
  const parsed = parseSettings(
    ['--data', data, '--http', '127.0.0.1:0', '--broker', broker.url, '--broker-user', 'keeper'],
    { WELCOMB_BROKER_PASSWORD: secret.broker },
    () => '',
  );
  if (!parsed.ok) throw new Error(parsed.message);
  const stream = { write: (line: string) => void log.push(line) };
  running = await runServer(parsed.settings, { log: pino({ level: 'trace' }, stream) });

  const way = { enabled: true, urgencies: ['now', 'today', 'next-visit'] };
  const smtp = `smtp://keeper@127.0.0.1:${String(mail.port)}/to@example.test?from=from@example.test`;
  const made = [
    await ask('PUT', '/settings/farm', { ...(await farmNow()), heartbeatUrl, forecastUrl }),
    await ask('PUT', '/settings/tellings/mail', {
      ...way,
      id: 'mail',
      name: 'Mail',
      kind: 'mail',
      address: smtp,
      secret: secret.mail,
    }),
    await ask('PUT', '/settings/tellings/hook', {
      ...way,
      id: 'hook',
      name: 'Hook',
      kind: 'webhook',
      address: hookUrl,
      secret: secret.webhook,
    }),
    await ask('PUT', '/settings/tellings/mqtt', {
      ...way,
      id: 'mqtt',
      name: 'Hub',
      kind: 'mqtt',
      address: 'status',
    }),
    await ask('POST', '/devices', { name: 'node-1', password: secret.device, ownTopicsOnly: true }),
  ];
  expect(made.map(({ status }) => status).filter((status) => status >= 300 && status !== 409)).toEqual([]);
}, 60_000);

afterAll(async () => {
  await running.stop();
  await mail.close();
  await hook.close();
  broker.close();
  rmSync(data, { recursive: true, force: true });
});

it('the server keeps what it was given', () => {
  expect(farmSettings(running.store.settings).heartbeatUrl).toBe(heartbeatUrl);
  expect(
    notificationChannels(running.store.settings)
      .map((one) => one.secret ?? '')
      .filter(Boolean)
      .sort(),
  ).toEqual([secret.mail, secret.webhook].sort());
});

it('a form that is saved as it was shown keeps the addresses that hold a token', async () => {
  const shown = await farmNow();
  const host = new URL(hook.url).origin;
  expect(shown).toMatchObject({ heartbeatUrl: `${host}/…`, forecastUrl: `${host}/…` });
  await ask('PUT', '/settings/farm', { ...shown, farmName: 'Hillside' });
  expect(farmSettings(running.store.settings)).toMatchObject({
    farmName: 'Hillside',
    heartbeatUrl,
    forecastUrl,
  });
  const { items } = JSON.parse((await ask('GET', '/settings/tellings')).text) as {
    items: NotificationChannel[];
  };
  const way = items.find(({ id }) => id === 'hook')!;
  expect(way.address).toBe(`${host}/…`);
  const { status } = await ask('PUT', '/settings/tellings/hook', { ...way, name: 'Hut' });
  expect(status).toBe(200);
  const kept = notificationChannels(running.store.settings).find(({ id }) => id === 'hook');
  expect(kept).toMatchObject({ name: 'Hut', address: hookUrl, secret: secret.webhook });
});

it('an address of which only the shown part was changed is refused, not stored without its token', async () => {
  const other = 'https://elsewhere.test/…';
  for (const name of ['heartbeatUrl', 'forecastUrl'])
    expect((await ask('PUT', '/settings/farm', { ...(await farmNow()), [name]: other })).status).toBe(400);
  const way = { enabled: true, urgencies: ['now'], name: 'Hook', kind: 'webhook' };
  const { status, text } = await ask('PUT', '/settings/tellings/hook', {
    ...way,
    id: 'hook',
    address: other,
  });
  expect(status).toBe(400);
  expect(text).toContain('whole address');
  expect(farmSettings(running.store.settings)).toMatchObject({ heartbeatUrl, forecastUrl });
});

it('says none of it when everything that needs it fails', async () => {
  for (const id of ['mail', 'hook', 'mqtt']) {
    const { text } = await ask('POST', `/settings/tellings/${id}/try`);
    expect(JSON.parse(text)).toMatchObject({ ok: false });
  }
  const beaten = await beat(heartbeatUrl, null);
  expect(beaten.ok).toBe(false);
  answers.push(JSON.stringify(beaten));
  // A body that is refused is told back with its faults.
  await ask('PUT', '/settings/tellings/hook', { kind: 'webhook', secret: secret.webhook, address: 7 });
  await ask('PUT', '/settings/farm', { heartbeatUrl: secret.heartbeat.repeat(200) });
  const plain = Object.values(operations as Record<string, Operation>).filter(
    ({ method, path }) => method === 'get' && !path.includes('{'),
  );
  expect(plain.length).toBeGreaterThan(15);
  for (const { path } of plain) await ask('GET', path);
  expect((await ask('GET', '/export/everything.jsonl?readings=raw')).status).toBe(200);

  const said = [...log, ...answers];
  expect(log.join('')).toContain('broker');
  expect(answers.join('\n')).toContain('heartbeatUrl');
  expect(said.filter((line) => /MARK-/.test(line))).toEqual([]);
}, 60_000);
