/** A phone as a notification channel: subscribed over HTTP, kept secret, tried, ended by its push service. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { createNotifier } from '../../server/service/notifier.ts';
import { pushKeys } from '../../server/farm/push-keys.ts';
import { notificationChannels } from '../../server/farm/settings.ts';
import { effect } from '../notify/made-up.ts';
import {
  decrypt,
  keysOf,
  newPhone,
  pushService,
  vapidClaims,
  type PushService,
} from '../notify/push-service.ts';
import { nowMs, startServer, type TestServer } from './support/server.ts';

let server: TestServer;
let service: PushService;
const phone = newPhone();
/** A push service has a name on the internet; what is sent there is led to the one on loopback. */
const internet = 'https://push.example.net';
const realFetch = fetch;

beforeEach(async () => {
  server = await startServer();
  service = await pushService();
  vi.stubGlobal('fetch', (input: string | URL, init?: RequestInit) =>
    realFetch(String(input).replace(internet, service.origin), init),
  );
});
afterEach(async () => {
  vi.unstubAllGlobals();
  await server.stop();
  await service.close();
});

const ask = async (method: string, path: string, body?: unknown): Promise<Response> =>
  realFetch(`${server.url}/api/v1${path}`, {
    method,
    headers: { 'content-type': 'application/json', origin: server.url },
    ...(body === undefined ? {} : { body: JSON.stringify(body) }),
  });
const subscription = {
  name: 'Phone',
  kind: 'push',
  address: `${internet}/send/very-private`,
  secret: keysOf(phone),
};
const save = (over: object = {}) => ask('PUT', '/settings/tellings/p1', { ...subscription, ...over });
const listed = async (): Promise<unknown> => (await ask('GET', '/settings/tellings')).json();
const stored = () => notificationChannels(server.store.settings)[0];

describe('the key of the server', () => {
  it('is made when it is first asked for, once, and told to nobody but phones', async () => {
    expect(pushKeys(server.store.settings)).toBeNull();
    const first = (await (await ask('POST', '/settings/push-key')).json()) as { publicKey: string };
    expect(Buffer.from(first.publicKey, 'base64url')).toHaveLength(65);
    expect(await (await ask('POST', '/settings/push-key')).json()).toEqual(first);
    const secret = pushKeys(server.store.settings)?.privateKey ?? 'none';
    for (const path of [
      '/settings/changes',
      '/settings/tellings',
      '/settings/farm',
      '/export/everything',
      '/audit',
    ])
      expect(await (await ask('GET', path)).text()).not.toContain(secret);
    expect(JSON.stringify(server.store.settings.changes())).not.toContain(secret);
  });
});

describe('a phone', () => {
  it('is shown without the address and the keys by which anybody could send to it', async () => {
    const answer = await save();
    expect(answer.status).toBe(200);
    const text = (await answer.text()) + JSON.stringify(await listed());
    expect(text).toContain(`${internet}/…`);
    expect(text).not.toMatch(/very-private/);
    expect(text).not.toContain(keysOf(phone));
  });

  it('may be named anew without being asked for its keys again', async () => {
    await save();
    expect((await save({ name: 'Mine', address: `${internet}/…`, secret: undefined })).status).toBe(200);
    expect(stored()).toMatchObject({ ...subscription, name: 'Mine' });
  });

  it.each([
    [{ address: 'https://192.168.0.9/send' }, '#/address', /local network/],
    [{ address: 'http://push.example.net/send' }, '#/address', /https/],
    [{ secret: undefined }, '#/secret', /keys/],
    [{ secret: 'short.keys' }, '#/secret', /keys/],
  ])('with %j is refused and not stored', async (over, pointer, detail) => {
    const refused = await save(over);
    expect(refused.status).toBe(400);
    expect(await refused.json()).toMatchObject({
      errors: [{ pointer, detail: expect.stringMatching(detail) as string }],
    });
    expect(stored()).toBeUndefined();
  });

  it('whose address changes needs the keys that belong to it', async () => {
    await save();
    const moved = await save({ address: `${internet}/send/another`, secret: undefined });
    expect(moved.status).toBe(400);
    expect(stored()?.address).toBe(subscription.address);
  });
});

describe('a notifier with a phone', () => {
  let now = nowMs;
  const notifier = () =>
    createNotifier({
      store: server.store,
      clock: () => now,
      timeZone: () => 'Europe/Berlin',
      publish: () => Promise.resolve(),
      brokerSinceMs: () => 0,
      openPages: () => 0,
      nucs: () => [],
      complain: (sentence) => {
        throw new Error(sentence);
      },
      onError: (error) => {
        throw error;
      },
    });
  const farm = async (change: object): Promise<void> => {
    const kept = (await (await ask('GET', '/settings/farm')).json()) as object;
    expect((await ask('PUT', '/settings/farm', { ...kept, ...change })).status).toBe(200);
  };
  beforeEach(async () => {
    now = nowMs;
    await farm({ publicAddress: 'https://bees.example.org/nucs/' });
    await ask('POST', '/settings/push-key');
  });
  const read = (n: number): unknown =>
    JSON.parse(decrypt(service.received[n]?.body ?? Buffer.alloc(0), phone).toString());

  it('sends a trial message that only the phone can read', async () => {
    await save();
    expect(await notifier().tryChannel('p1', now)).toMatchObject({ ok: true });
    expect(read(0)).toMatchObject({ heading: 'Welcomb: a test', page: '#/today' });
    const claims = vapidClaims(service.received[0]?.headers.authorization);
    expect(claims).toMatchObject({ aud: internet, publicKey: pushKeys(server.store.settings)?.publicKey });
    // RFC 8292 §2.1: a mailto: or an https: address.
    expect(claims.sub).toBe('https://bees.example.org/nucs/');
  });

  it('names the sender of the mails as contact where the page has no https address, and else sends nothing', async () => {
    await farm({ publicAddress: 'http://192.168.7.2:8480/' });
    await save();
    const untold = await notifier().tryChannel('p1', now);
    expect(untold).toMatchObject({ ok: false, detail: expect.stringContaining('https address') as string });
    expect(service.received).toEqual([]);
    const address = 'smtp://mail.example.org/rowan@example.org?from=nucs@example.org';
    await ask('PUT', '/settings/tellings/m1', { ...subscription, kind: 'mail', address, secret: undefined });
    expect(await notifier().tryChannel('p1', now)).toMatchObject({ ok: true });
    const { sub } = vapidClaims(service.received[0]?.headers.authorization);
    expect(sub).toBe('mailto:nucs@example.org');
  });

  it('keeps to quiet hours but for what is to be done now, and sends the digest, as a mail does', async () => {
    // 06:00 UTC is 08:00 in Berlin.
    const quietHours = { from: '07:00', to: '09:00', timeZone: 'Europe/Berlin' };
    await save({ urgencies: ['now', 'today'], quietHours, digestAt: '09:30' });
    const at = notifier();
    at.onEffects(
      [
        effect('raised', { urgency: 'now' }),
        effect('raised', { urgency: 'today', ruleId: 'virgin-may-be-out' }),
      ],
      now,
    );
    const minute = async (minutes: number): Promise<void> => {
      now = nowMs + minutes * 60_000;
      await at.onMinute([], now);
    };
    await minute(1);
    await minute(30);
    expect(service.received.map(({ headers }) => headers['urgency'])).toEqual(['high']);
    await minute(61);
    expect(service.received.map(({ headers }) => headers['urgency'])).toEqual(['high', 'normal']);
  });

  it.each([404, 410])(
    'ends a subscription that its service answers with %d, and says since when',
    async (status) => {
      await save();
      service.status = status;
      expect(await notifier().tryChannel('p1', now)).toMatchObject({ ok: false });
      expect(await listed()).toMatchObject({
        items: [{ name: 'Phone', enabled: false, endedAt: new Date(now).toISOString() }],
      });
      service.status = 201;
      notifier().onEffects([effect('raised')], now);
      now += 3_600_000;
      await notifier().pump();
      expect(service.received).toEqual([]);
      // Renamed it is still over; subscribed again it is not.
      await save({ name: 'Old phone', address: `${internet}/…`, secret: undefined, enabled: false });
      expect(stored()).toHaveProperty('endedAt');
      await save({ address: `${internet}/send/new` });
      expect(stored()).not.toHaveProperty('endedAt');
    },
  );
});
