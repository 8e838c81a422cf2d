/** Wrong-password flood, session fixation, expiry and who may what. */
import { afterEach, describe, expect, it } from 'vitest';
import { wrongPasswords } from '../../server/http/access/limits.ts';
import { StoreUnavailable } from '../../server/store/errors.ts';
import type { TestServer } from '../http/support/server.ts';
import {
  cookieFrom,
  furnish,
  passwordOf,
  person,
  problemOf,
  send,
  startServer,
} from '../http/support/server.ts';
import { visitors } from '../http/support/sign-in.ts';

let server: TestServer;
afterEach(() => server.stop());
const { api, signIn, cookieOf, as } = visitors(() => server);

describe('a flood of wrong passwords', () => {
  it('is stopped, the right one then too, until it has been quiet', async () => {
    server = await startServer();
    await person(server, 'Rowan', 'keeper');
    // A right one in between does not count, and does not start the count again either.
    expect((await signIn('Rowan')).status).toBe(200);
    const guesses = await Promise.all(
      Array.from({ length: wrongPasswords }, (_, i) =>
        signIn(i % 2 === 0 ? 'Rowan' : 'nobody', `guess ${String(i)}`),
      ),
    );
    expect(guesses.map((answer) => answer.status)).toEqual(guesses.map(() => 401));
    const stopped = await signIn('Rowan');
    expect(await problemOf(stopped)).toMatchObject({ status: 429, detail: expect.stringContaining('wait') });
    expect(stopped.headers.get('retry-after')).toBe('900');
    expect(cookieFrom(stopped)).toBeUndefined();
    // A dozen scrypt runs, one after the other.
  }, 60_000);

  it('learns nothing about which names there are', async () => {
    server = await startServer();
    await person(server, 'Rowan', 'keeper');
    const answers = [await signIn('Rowan', 'not it at all'), await signIn('nobody', 'not it at all')];
    const [known, unknown] = await Promise.all(answers.map(problemOf));
    expect(known).toEqual(unknown);
    const noted = server.store.people.audit().map((line) => line.what);
    expect(noted).toHaveLength(2);
    expect(noted.join()).not.toMatch(/nobody|not it at all/);
  });
});

describe('sessions', () => {
  it('are new at each sign-in: one that somebody planted is worth nothing', async () => {
    server = await startServer();
    await person(server, 'Rowan', 'keeper');
    const planted = 'welcomb_session=AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA';
    const given = cookieFrom(await signIn('Rowan', undefined, { Cookie: planted }));
    expect(given).toMatch(/^welcomb_session=[\w-]{43}$/);
    expect(given).not.toBe(planted);
    expect((await fetch(api('/sites'), { headers: { Cookie: planted } })).status).toBe(401);
    // Somebody's own old session, planted in another browser, ends when that browser signs in.
    const second = cookieFrom(await signIn('Rowan', undefined, { Cookie: given })) ?? '';
    expect((await fetch(api('/sites'), { headers: { Cookie: given ?? '' } })).status).toBe(401);
    expect((await fetch(api('/sites'), { headers: { Cookie: second } })).status).toBe(200);
  });

  it('are in a cookie that no script and no other site gets, and stored only as a hash', async () => {
    server = await startServer({ settings: { basePath: '/bees' } });
    await person(server, 'Rowan', 'keeper');
    const header = (await signIn('Rowan')).headers.getSetCookie()[0] ?? '';
    expect(header).toMatch(/; Path=\/bees; .*HttpOnly; SameSite=Lax$/);
    expect(header).not.toContain('Secure');
    const secret = /=([\w-]+);/.exec(header)?.[1] ?? '';
    expect(server.store.people.session(secret, 0)).toBeUndefined();
  });

  it('are marked Secure behind a trusted proxy that ends TLS, and by nobody else', async () => {
    const forwarded = { 'X-Forwarded-Proto': 'https', 'X-Forwarded-For': '10.1.1.1' };
    for (const trustedProxies of [['loopback'], []]) {
      server = await startServer({ settings: { trustedProxies } });
      await person(server, 'Rowan', 'keeper');
      const answer = await send(
        api('/session'),
        'POST',
        { name: 'Rowan', password: passwordOf('Rowan') },
        forwarded,
      );
      expect(/; Secure/.test(answer.headers.getSetCookie()[0] ?? '')).toBe(trustedProxies.length > 0);
      if (trustedProxies.length > 0) await server.stop();
    }
  });

  it('and tokens go on when the disk is full, so that the page can say so', async () => {
    server = await startServer({ settings: { sessionDays: 5 } });
    const rowan = await person(server, 'Rowan', 'keeper');
    const cookie = await cookieOf('Rowan');
    const made = await send(api('/tokens'), 'POST', { name: 't', scope: 'read' }, as(cookie));
    const { token } = (await made.json()) as { token: string };
    server.pass(2 * 86_400_000);
    const full = (): never => {
      throw new StoreUnavailable('disk-full', 'The disk is full.');
    };
    const { people } = server.store;
    Object.assign(people, { extendSession: full, tokenUsed: full, noteAudit: full });
    expect((await fetch(api('/sites'), { headers: { Cookie: cookie } })).status).toBe(200);
    expect((await fetch(api('/sites'), { headers: { Authorization: `Bearer ${token}` } })).status).toBe(200);
    expect((await send(api('/settings/farm'), 'PUT', {}, as(cookie))).status).toBe(200);
    expect(server.logged.join()).toContain('could not be noted in the access log');
    // What does rest on the disk says so, and how long to wait.
    Object.assign(people, { remove: full });
    const refused = await send(api(`/people/${rowan.id}`), 'DELETE', undefined, as(cookie));
    expect(await problemOf(refused)).toMatchObject({ status: 503, detail: 'The disk is full.' });
    expect(refused.headers.get('retry-after')).toBe('10');
  });

  it('end when signed out, when unused for long, and with the password', async () => {
    server = await startServer({ settings: { sessionDays: 2 } });
    const rowan = await person(server, 'Rowan', 'keeper');
    const works = async (cookie: string): Promise<boolean> =>
      (await fetch(api('/sites'), { headers: { Cookie: cookie } })).status === 200;
    const [out, idle, used, changed] = [
      await cookieOf('Rowan'),
      await cookieOf('Rowan'),
      await cookieOf('Rowan'),
      await cookieOf('Rowan'),
    ];
    expect((await send(api('/session'), 'DELETE', undefined, as(out))).status).toBe(204);
    expect(await works(out)).toBe(false);
    const day = 86_400_000;
    server.pass(1.5 * day);
    expect(await works(used)).toBe(true);
    expect(await works(changed)).toBe(true);
    server.pass(day);
    expect([await works(idle), await works(used), await works(changed)]).toEqual([false, true, true]);
    server.store.people.setPassword(rowan.id, rowan.passwordHash);
    expect(await works(changed)).toBe(false);
  });
});

describe('roles', () => {
  it('let viewers read, helpers log, keepers change', async () => {
    server = await startServer();
    furnish(server);
    await person(server, 'Rowan', 'keeper');
    await person(server, 'Ash', 'helper');
    await person(server, 'Elm', 'viewer');
    const cookies = {
      keeper: await cookieOf('Rowan'),
      helper: await cookieOf('Ash'),
      viewer: await cookieOf('Elm'),
    };
    const entry = {
      type: 'fact',
      id: 'note-0001',
      introductionId: 'intro-000001',
      happenedAtMs: 1,
      writtenAtMs: 1,
      fact: { kind: 'note' },
    };
    const statuses = async (method: string, path: string, body?: unknown): Promise<number[]> =>
      Promise.all(
        (['viewer', 'helper', 'keeper'] as const).map(
          async (role) => (await send(api(path), method, body, as(cookies[role]))).status,
        ),
      );
    expect(await statuses('GET', '/nucs')).toEqual([200, 200, 200]);
    expect(await statuses('POST', '/log', { entries: [entry] })).toEqual([403, 200, 200]);
    expect(await statuses('GET', '/people')).toEqual([403, 403, 200]);
    expect(await statuses('DELETE', '/people/none')).toEqual([403, 403, 404]);
    expect(await statuses('PUT', '/settings/farm', {})).toEqual([403, 403, 200]);
    const refused = await send(api('/settings/farm'), 'PUT', {}, as(cookies.viewer));
    expect((await problemOf(refused)).detail).toBe('Elm may act as viewer only; this takes a keeper.');
    // Without a session: nothing but what anybody may ask.
    expect((await fetch(api('/nucs'))).status).toBe(401);
    expect(await (await fetch(api('/me'))).json()).toMatchObject({ signedIn: false, role: null, csrf: null });
  });

  it('end with the person, and never leave the farm without a keeper', async () => {
    server = await startServer();
    const rowan = await person(server, 'Rowan', 'keeper');
    const ash = await person(server, 'Ash', 'viewer');
    const [keeper, viewer] = [await cookieOf('Rowan'), await cookieOf('Ash')];
    const remove = (id: string): Promise<Response> =>
      send(api(`/people/${id}`), 'DELETE', undefined, as(keeper));
    expect(await problemOf(await remove(rowan.id))).toMatchObject({ status: 409 });
    expect((await remove(ash.id)).status).toBe(204);
    expect((await fetch(api('/sites'), { headers: { Cookie: viewer } })).status).toBe(401);
  });
});

describe('before a password is set', () => {
  it('serves the machine itself, sets the password once, and then asks for it', async () => {
    server = await startServer();
    expect(await (await fetch(api('/me'))).json()).toMatchObject({ passwordSet: false, role: 'keeper' });
    const first = { name: 'Rowan', password: passwordOf('Rowan'), code: server.setupCode.text };
    const short = await send(api('/password'), 'POST', { ...first, password: 'short' });
    expect(await problemOf(short)).toMatchObject({ status: 400 });
    const set = await send(api('/password'), 'POST', first);
    const me = (await set.json()) as { csrf: string };
    expect(me).toMatchObject({ signedIn: true, passwordSet: true, name: 'Rowan', role: 'keeper' });
    const cookie = cookieFrom(set) ?? '';
    expect((await (await fetch(api('/me'), { headers: { Cookie: cookie } })).json()) as object).toMatchObject(
      {
        name: 'Rowan',
        csrf: me.csrf,
      },
    );
    expect((await fetch(api('/sites'))).status).toBe(401);
    expect(await problemOf(await send(api('/password'), 'POST', first))).toMatchObject({ status: 409 });
  });

  it('gives two who set it at once one keeper', async () => {
    server = await startServer();
    const answers = await Promise.all(
      ['Rowan', 'Ash'].map((name) => {
        const first = { name, password: passwordOf(name), code: server.setupCode.text };
        return send(api('/password'), 'POST', first);
      }),
    );
    expect(answers.map((answer) => answer.status).sort()).toEqual([200, 409]);
    expect(server.store.people.list()).toHaveLength(1);
  });

  it('serves nobody who comes through a proxy, trusted or not, and says why', async () => {
    server = await startServer({ settings: { trustedProxies: ['loopback'] } });
    for (const header of ['X-Forwarded-For', 'Forwarded', 'X-Real-IP', 'Via']) {
      const answer = await fetch(api('/me'), { headers: { [header]: '127.0.0.1' } });
      expect(await problemOf(answer)).toMatchObject({
        status: 403,
        detail: expect.stringContaining('No password'),
      });
    }
    const page = await fetch(server.url, { headers: { Via: '1.1 x', Accept: 'text/html' } });
    expect([page.status, page.headers.get('content-type')]).toEqual([403, 'text/html; charset=utf-8']);
    expect(await page.text()).toContain('No password is set yet');
  });

  it('serves only the setting of it when the server listens to the network', async () => {
    server = await startServer({ settings: { http: { host: '0.0.0.0', port: 0 } } });
    expect(await problemOf(await fetch(api('/sites')))).toMatchObject({
      status: 401,
      detail: expect.stringContaining('Set a password first'),
    });
    expect(await (await fetch(api('/me'))).json()).toMatchObject({ signedIn: false, passwordSet: false });
    const first = { name: 'Rowan', password: passwordOf('Rowan'), code: server.setupCode.text };
    const set = await send(api('/password'), 'POST', first);
    expect(set.status).toBe(200);
  });
});
