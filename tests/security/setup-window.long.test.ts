/** The first password without the setup code: from a device at home, on an empty server, for minutes after a start. */
import { afterEach, describe, expect, it } from 'vitest';
import type { TestServer, TestServerOptions } from '../http/support/server.ts';
import { cookieFrom, furnish, passwordOf, problemOf, send, startServer } from '../http/support/server.ts';

let server: TestServer;
afterEach(() => server.stop());
const api = (path: string): string => `${server.url}/api/v1${path}`;
const first = { name: 'Rowan', password: passwordOf('Rowan') };
const setIt = (headers: Record<string, string> = {}, more = {}): Promise<Response> =>
  send(api('/password'), 'POST', { ...first, ...more }, headers);
const start = async (options: TestServerOptions = {}): Promise<void> => {
  server = await startServer({
    peer: '192.168.7.2',
    setupMinutes: 15,
    settings: { http: { host: '0.0.0.0', port: 0 } },
    ...options,
  });
};
const me = async () => (await (await fetch(api('/me'))).json()) as Record<string, unknown>;
const minute = 60_000;

describe('the minutes without a setup code', () => {
  it('take the first password from a device at home, sign it in, say so in the access log, and are over', async () => {
    await start();
    expect(await me()).toMatchObject({ passwordSet: false, withoutCode: { open: true, minutes: 15 } });
    const set = await setIt({ Origin: server.url });
    expect([set.status, cookieFrom(set)]).toEqual([200, expect.stringContaining('welcomb_session')]);
    expect(server.store.people.list().map(({ name, role }) => [name, role])).toEqual([['Rowan', 'keeper']]);
    const access = await fetch(api('/audit'), { headers: { Cookie: cookieFrom(set) ?? '' } });
    expect(await access.text()).toContain('without the setup code');
    expect(server.logged.join('')).toContain('without the setup code');
    expect(await me()).not.toHaveProperty('withoutCode');
    expect((await setIt({}, { name: 'Ash' })).status).toBe(409);
  });

  it('close to the minute; then the code is asked for, and taken', async () => {
    await start();
    server.pass(15 * minute - 1);
    expect(await me()).toMatchObject({ withoutCode: { open: true } });
    server.pass(1);
    expect(await me()).toMatchObject({ withoutCode: { open: false, minutes: 15 } });
    expect(await problemOf(await setIt())).toMatchObject({ status: 403, type: 'setup-code-required' });
    expect((await setIt({}, { code: server.setupCode.text })).status).toBe(200);
  });

  it('are none where the setting does not give them', async () => {
    await start({ setupMinutes: 0 });
    expect(await me()).not.toHaveProperty('withoutCode');
    expect(await problemOf(await setIt())).toMatchObject({ type: 'setup-code-required' });
  });

  it('never open on a server that has records: whoever came first would have them', async () => {
    await start();
    furnish(server);
    expect(await me()).toMatchObject({ withoutCode: { open: false } });
    expect(await problemOf(await setIt())).toMatchObject({ type: 'setup-code-required' });
  });

  it.each([
    ['192.168.7.2', true],
    ['10.1.2.3', true],
    ['172.31.0.9', true],
    ['::ffff:192.168.7.2', true],
    ['fd12::7', true],
    ['fe80::7%eth0', true],
    // The machine itself may be a relay's; the others are no home network.
    ['127.0.0.1', false],
    ['::1', false],
    ['172.32.0.9', false],
    ['203.0.113.9', false],
    ['2001:db8::7', false],
  ])('from %s: %s', async (peer, isTaken) => {
    await start({ peer });
    expect((await setIt()).status).toBe(isTaken ? 200 : 403);
    expect(server.store.people.list()).toHaveLength(isTaken ? 1 : 0);
  });

  it.each([
    [{ 'X-Forwarded-For': '192.168.7.9' }, 'this-machine-only'],
    [{ Forwarded: 'for=192.168.7.9' }, 'this-machine-only'],
    [{ Origin: 'http://elsewhere.example' }, 'foreign-origin'],
    [{ 'Sec-Fetch-Site': 'cross-site' }, 'foreign-origin'],
  ])('are not for a request with %j', async (headers, type) => {
    await start({ settings: { http: { host: '0.0.0.0', port: 0 }, trustedProxies: ['uniquelocal'] } });
    expect(await problemOf(await setIt(headers))).toMatchObject({ status: 403, type });
    expect(server.store.people.list()).toEqual([]);
  });

  it('open nothing but the first password: no backup, no other person, no readings', async () => {
    await start();
    const person = { ...first, role: 'keeper' };
    const statuses = [
      await send(api('/people'), 'POST', person),
      await send(api('/restore'), 'POST', { file: 'x.sqlite' }),
      await fetch(api('/restore/upload'), { method: 'POST', body: 'x' }),
      await fetch(api('/sites')),
      await fetch(api('/export/everything.jsonl')),
    ].map(({ status }) => status);
    expect(statuses).toEqual([401, 401, 401, 401, 401]);
  });
});
