/** Notification channels over HTTP: an address that can't be used is refused when it is saved, and what was given up is shown. */
import { afterEach, beforeEach, expect, it } from 'vitest';
import { delivery } from '../notify/made-up.ts';
import { nowMs, startServer, type TestServer } from './support/server.ts';

let server: TestServer;
beforeEach(async () => {
  server = await startServer();
});
afterEach(() => server.stop());

const ask = async (method: string, path: string, body?: unknown): Promise<Response> =>
  fetch(`${server.url}/api/v1${path}`, {
    method,
    headers: { 'content-type': 'application/json', origin: server.url },
    ...(body === undefined ? {} : { body: JSON.stringify(body) }),
  });
const mail = { name: 'Evening mail', kind: 'mail', address: 'smtp://mail.test/keeper@example.org' };

it.each([
  ['mail', 'keeper@example.org', /smtp:\/\//],
  ['webhook', 'ftp://example.org/hook', /http or https/],
  ['mqtt', 'welcomb/status', /another topic/],
])('a %s address that can’t be used is refused and not stored: %s', async (kind, address, why) => {
  const refused = await ask('PUT', '/settings/tellings/a1', { name: 'Mine', kind, address });
  expect(refused.status).toBe(400);
  expect(await refused.json()).toMatchObject({
    detail: expect.stringMatching(why) as string,
    errors: [{ pointer: '#/address' }],
  });
  expect(await (await ask('GET', '/settings/tellings')).json()).toMatchObject({ items: [] });
});

it('an alert that a channel gave up on, or that did not reach all of it, stands in the status for a week, a test message does not', async () => {
  expect((await ask('PUT', '/settings/tellings/mail', mail)).status).toBe(200);
  const lost = { recipientId: 'mail', state: 'given-up', attempts: 9, lastError: 'no route' } as const;
  server.store.deliveries.save(delivery({ ...lost, key: 'a', createdAtMs: nowMs - 86_400_000 }));
  server.store.deliveries.save(delivery({ ...lost, key: 'b', createdAtMs: nowMs - 8 * 86_400_000 }));
  server.store.deliveries.save(delivery({ ...lost, key: 'c', kind: 'test', createdAtMs: nowMs - 60_000 }));
  const partly = { ...lost, state: 'sent', attempts: 1, lastError: 'but refused for Bo' } as const;
  server.store.deliveries.save(delivery({ ...partly, key: 'd', createdAtMs: nowMs - 2 * 86_400_000 }));
  server.store.deliveries.save(
    delivery({ ...partly, key: 'e', lastError: null, createdAtMs: nowMs - 60_000 }),
  );
  const { untold } = (await (await ask('GET', '/status')).json()) as { untold: unknown[] };
  expect(untold).toEqual([
    expect.objectContaining({ to: 'Evening mail', gaveUp: true, tries: 9, problem: 'no route' }),
    expect.objectContaining({ to: 'Evening mail', gaveUp: true, problem: 'but refused for Bo' }),
  ]);
});

it('the page’s own address is an http or https address or nothing', async () => {
  const { farm } = (await (await ask('GET', '/me')).json()) as { farm: object };
  expect(farm).toMatchObject({ publicAddress: '' });
  const put = async (publicAddress: string) =>
    (await ask('PUT', '/settings/farm', { ...farm, publicAddress })).status;
  expect(await put('https://bees.example.org/nucs')).toBe(200);
  expect(await put('bees.example.org')).toBe(400);
  expect(await put('')).toBe(200);
});
