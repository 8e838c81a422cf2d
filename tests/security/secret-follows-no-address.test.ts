/** A secret of a way to tell goes only where it was given for, whatever is edited around it. */
import { afterAll, beforeAll, expect, it } from 'vitest';
import { notificationChannels } from '../../server/farm/settings.ts';
import type { TestServer } from '../http/support/server.ts';
import { startServer } from '../http/support/server.ts';

let server: TestServer;
beforeAll(async () => {
  server = await startServer();
});
afterAll(() => server.stop());

const hook = {
  name: 'Hook',
  kind: 'webhook',
  enabled: true,
  urgencies: ['now'],
  address: 'https://hub.test/in/TOKEN',
};
const mail = { ...hook, kind: 'mail', address: 'smtp://keeper@mail.test:587/to@example.test' };
interface Saved {
  readonly secret?: string;
  readonly secretDropped?: boolean;
}
async function put(body: object): Promise<Saved> {
  const answer = await fetch(`${server.url}/api/v1/settings/tellings/one`, {
    method: 'PUT',
    headers: { 'content-type': 'application/json', origin: server.url },
    body: JSON.stringify(body),
  });
  expect(answer.status).toBe(200);
  return (await answer.json()) as Saved;
}
const stored = (): string | undefined => notificationChannels(server.store.settings)[0]?.secret;

it.each([
  ['another host', hook, { address: 'https://other.test/in/TOKEN' }],
  ['another port', hook, { address: 'https://hub.test:8443/in/TOKEN' }],
  ['no TLS', hook, { address: 'http://hub.test/in/TOKEN' }],
  ['another host, "set" sent back', hook, { address: 'https://other.test/', secret: 'set' }],
  ['another kind', hook, mail],
  ['another mail host', mail, { address: 'smtp://keeper@other.test:587/to@example.test' }],
  ['another mail user', mail, { address: 'smtp://someone@mail.test:587/to@example.test' }],
])('is dropped, and that is said: %s', async (_what, from, change) => {
  await put({ ...from, secret: 'HUSH' });
  expect(stored()).toBe('HUSH');
  const saved = await put({ ...from, ...change });
  expect(stored()).toBeUndefined();
  expect(saved).toMatchObject({ secretDropped: true });
  expect(saved.secret).toBeUndefined();
});

it.each([
  ['another name', hook, { name: 'Hut' }],
  ['the address as it was shown', hook, { address: 'https://hub.test/…' }],
  ['another path', hook, { address: 'https://hub.test/in/second' }],
  ['another mailbox', mail, { address: 'smtp://keeper@mail.test:587/two@example.test' }],
])('stays: %s', async (_what, from, change) => {
  await put({ ...from, secret: 'HUSH' });
  const saved = await put({ ...from, ...change });
  expect(stored()).toBe('HUSH');
  expect(saved.secretDropped).toBeUndefined();
});

it('a new secret for a new host is taken', async () => {
  await put({ ...hook, secret: 'HUSH' });
  const saved = await put({ ...hook, address: 'https://other.test/', secret: 'NEW' });
  expect(stored()).toBe('NEW');
  expect(saved.secretDropped).toBeUndefined();
});
