/** Cross-site requests, DNS rebinding, and tokens beyond their scope. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { TestServer } from '../http/support/server.ts';
import { cookieFrom, furnish, passwordOf, person, send, startServer } from '../http/support/server.ts';
import { ask, json } from './support.ts';

let server: TestServer;
let cookie = '';
let csrf = '';
const site = { name: 'Hill', timeZone: 'Europe/Berlin', latDeg: 51, lonDeg: 9 };
const addSite = (headers: Record<string, string>) => ask(server.port, '/api/v1/sites', json(site, headers));

beforeAll(async () => {
  server = await startServer({ settings: { hostNames: ['nucs.example.org'], trustedProxies: [] } });
  furnish(server);
  await person(server, 'Rowan', 'keeper');
  const answer = await send(`${server.url}/api/v1/session`, 'POST', {
    name: 'Rowan',
    password: passwordOf('Rowan'),
  });
  cookie = cookieFrom(answer) ?? '';
  csrf = ((await answer.json()) as { csrf: string }).csrf;
});
afterAll(() => server.stop());

describe('another site’s page (CSRF)', () => {
  it.each([
    ['says its own origin', { Origin: 'https://attacker.example' }],
    ['is the same machine’s other port', { Origin: 'http://127.0.0.1:1' }],
    ['hides its origin', { Origin: 'null' }],
    ['is known by the browser as cross-site', { 'Sec-Fetch-Site': 'cross-site' }],
    ['says nothing at all', {}],
    ['says nothing and guesses the token', { 'X-CSRF-Token': 'A'.repeat(43) }],
  ])('changes nothing when it %s', async (_what, headers) => {
    const before = server.store.places.listSites().length;
    const answer = await addSite({ Cookie: cookie, ...headers });
    expect(answer.status).toBe(403);
    expect(answer.headers['content-type']).toBe('application/problem+json; charset=utf-8');
    expect(server.store.places.listSites()).toHaveLength(before);
  });

  it('can’t sign somebody in, or out', async () => {
    const foreign = { Origin: 'https://attacker.example' };
    const credentials = json({ name: 'Rowan', password: passwordOf('Rowan') }, foreign);
    expect((await ask(server.port, '/api/v1/session', credentials)).status).toBe(403);
    const out = { method: 'DELETE', headers: { Cookie: cookie, ...foreign } };
    expect((await ask(server.port, '/api/v1/session', out)).status).toBe(403);
  });

  it('is told apart from our own page, and from a script that has the token', async () => {
    expect((await addSite({ Cookie: cookie, Origin: server.url })).status).toBe(200);
    expect((await addSite({ Cookie: cookie, 'Sec-Fetch-Site': 'same-origin' })).status).toBe(200);
    expect((await addSite({ Cookie: cookie, 'X-CSRF-Token': csrf })).status).toBe(200);
  });

  it('gets no permission to read', async () => {
    const answer = await ask(server.port, '/api/v1/sites', {
      headers: { Origin: 'https://attacker.example' },
    });
    expect(answer.headers['access-control-allow-origin']).toBeUndefined();
    expect(answer.headers['cross-origin-resource-policy']).toBe('same-origin');
  });

  it('can’t send a form: only JSON is taken', async () => {
    const form = {
      method: 'POST',
      headers: { Cookie: cookie, Origin: server.url, 'Content-Type': 'text/plain' },
    };
    expect((await ask(server.port, '/api/v1/sites', { ...form, body: JSON.stringify(site) })).status).toBe(
      415,
    );
  });
});

describe('another site’s page before a password is set', () => {
  it('changes nothing either, although every request from this machine is the keeper’s', async () => {
    const open = await startServer();
    const answer = await ask(open.port, '/api/v1/sites', json(site, { Origin: 'https://attacker.example' }));
    expect(answer.status).toBe(403);
    expect(open.store.places.listSites()).toEqual([]);
    await open.stop();
  });
});

describe('a foreign name that points here (DNS rebinding)', () => {
  it.each(['attacker.example', `attacker.example:1`, '127.0.0.1.attacker.example', 'shed.attacker.example'])(
    '%s is not answered, page and API alike',
    async (host) => {
      for (const path of ['/', '/api/v1/me', '/api/v1/nucs', '/api/v1/openapi.json']) {
        const answer = await ask(server.port, path, { headers: { Host: host, Cookie: cookie } });
        expect(answer.status).toBe(421);
        expect(answer.body).not.toContain('Rowan');
      }
    },
  );

  it.each(['localhost', '127.0.0.1', '[::1]:8480', 'shed', 'SHED.local:8480', 'nucs.example.org'])(
    '%s is ours',
    async (host) => {
      expect((await ask(server.port, '/api/v1/me', { headers: { Host: host } })).status).toBe(200);
    },
  );

  it('is not let in by a forwarded name from somebody who is no trusted proxy', async () => {
    const headers = { Host: 'attacker.example', 'X-Forwarded-Host': 'localhost' };
    expect((await ask(server.port, '/api/v1/me', { headers })).status).toBe(421);
  });
});

describe('API tokens', () => {
  const make = async (scope: string): Promise<{ id: string; token: string }> => {
    const headers = { Cookie: cookie, Origin: server.url };
    const answer = await send(`${server.url}/api/v1/tokens`, 'POST', { name: scope, scope }, headers);
    return (await answer.json()) as { id: string; token: string };
  };
  const entry = {
    type: 'fact',
    id: 'note-token1',
    introductionId: 'intro-000001',
    happenedAtMs: 1,
    writtenAtMs: 1,
    fact: { kind: 'note' },
  };
  const statuses = async (token: string): Promise<number[]> => {
    const headers = { Authorization: `Bearer ${token}` };
    const asked = [
      await ask(server.port, '/api/v1/nucs', { headers }),
      await ask(server.port, '/api/v1/log', json({ entries: [entry] }, headers)),
      await ask(server.port, '/api/v1/people', { headers }),
      await addSite(headers),
    ];
    return asked.map((answer) => answer.status);
  };

  it('may what their scope says and no more', async () => {
    const [read, log, all] = [await make('read'), await make('log'), await make('all')];
    expect(await statuses(read.token)).toEqual([200, 403, 403, 403]);
    expect(await statuses(log.token)).toEqual([200, 200, 403, 403]);
    expect(await statuses(all.token)).toEqual([200, 200, 200, 200]);
  });

  it('may no more than the person who made them, and end when revoked', async () => {
    const { id, token } = await make('all');
    const rowan = server.store.people.byName('Rowan');
    await person(server, 'Ash', 'keeper');
    server.store.people.setRole(rowan?.id ?? '', 'viewer');
    expect(await statuses(token)).toEqual([200, 403, 403, 403]);
    server.store.people.setRole(rowan?.id ?? '', 'keeper');
    const revoke = { method: 'DELETE', headers: { Cookie: cookie, Origin: server.url } };
    expect((await ask(server.port, `/api/v1/tokens/${id}`, revoke)).status).toBe(204);
    expect(await statuses(token)).toEqual([401, 401, 401, 401]);
  });

  it('sent again under their id are the same one with a new secret, until it is used', async () => {
    const headers = { Cookie: cookie, Origin: server.url };
    const form = { id: 'token-form-1', name: 'shed display', scope: 'read' };
    const post = (body: object) => send(`${server.url}/api/v1/tokens`, 'POST', body, headers);
    const sent = async (): Promise<string> => ((await (await post(form)).json()) as { token: string }).token;
    const [lost, shown] = [await sent(), await sent()];
    const named = server.store.people.tokens().filter(({ name }) => name === form.name);
    expect(named.map(({ id }) => id)).toEqual([form.id]);
    expect([(await statuses(lost))[0], (await statuses(shown))[0]]).toEqual([401, 200]);
    const detail = 'This form has made the key shed display already: reload the page to make another.';
    for (const body of [form, { ...form, name: 'other' }]) {
      const refused = await post(body);
      expect([refused.status, await refused.json()]).toMatchObject([409, { detail }]);
    }
    expect((await statuses(shown))[0]).toBe(200);
  });

  it('are not to be guessed and are shown once; a wrong one counts for nothing', async () => {
    const { token } = await make('read');
    const headers = { Authorization: 'Bearer welcomb_guess' };
    const wrong = await ask(server.port, '/api/v1/nucs', { headers });
    expect([wrong.status, wrong.headers['www-authenticate']]).toEqual([401, 'Bearer error="invalid_token"']);
    // Beside a session neither a forged token nor a proxy's own name and password lock anybody out …
    for (const Authorization of ['Bearer welcomb_guess', 'Basic cm93YW46eA==', 'nonsense']) {
      const beside = { Cookie: cookie, Authorization };
      expect((await ask(server.port, '/api/v1/nucs', { headers: beside })).status).toBe(200);
      // … and what asks for another site's page is held back as with the session alone.
      expect((await addSite(beside)).status).toBe(403);
    }
    const listed = await ask(server.port, '/api/v1/tokens', { headers: { Cookie: cookie } });
    expect(listed.body).toContain('"scope":"read","owner":"Rowan"');
    expect(listed.body).not.toContain(token);
    expect(server.store.people.tokens().map((one) => one.secretHash)).not.toContain(token);
  });
});
