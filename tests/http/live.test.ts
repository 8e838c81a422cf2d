/** The event stream, readiness, the page's files, the calendar and the description of the API. */
import { connect } from 'node:net';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Validator } from '@seriousme/openapi-schema-validator';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { operations, otherPaths } from '../../server/contract/index.ts';
import type { TestServer } from './support/server.ts';
import { cookieFrom, furnish, passwordOf, person, problemOf, send, startServer } from './support/server.ts';

let server: TestServer;
const folder = mkdtempSync(join(tmpdir(), 'welcomb-page-'));
beforeAll(() => {
  mkdirSync(join(folder, 'assets'));
  writeFileSync(join(folder, 'index.html'), '<!doctype html><title>Page</title>');
  writeFileSync(join(folder, 'assets', 'app-1a2b.js'), `/* ${'x'.repeat(5000)} */`);
  writeFileSync(join(folder, '.secret'), 'hidden');
});
afterAll(() => {
  rmSync(folder, { recursive: true });
});
afterEach(() => server.stop());

/** The stream's events one after the other; ends with the stream. */
async function* heardOn(response: Response): AsyncGenerator<unknown, undefined> {
  const decoder = new TextDecoder();
  let rest = '';
  for await (const piece of response.body as unknown as AsyncIterable<Uint8Array>) {
    const lines = (rest + decoder.decode(piece, { stream: true })).split('\n');
    rest = lines.pop() ?? '';
    for (const line of lines) if (line.startsWith('data: ')) yield JSON.parse(line.slice(6)) as unknown;
  }
}

/** The first so many events, or all until the stream ended. */
async function eventsOf(response: Response, count: number): Promise<unknown[]> {
  const events: unknown[] = [];
  for await (const event of heardOn(response)) if (events.push(event) === count) break;
  return events;
}

describe('the event stream', () => {
  it('greets and tells what changes, whatever a client says it saw last', async () => {
    server = await startServer();
    const response = await fetch(`${server.url}/api/v1/events`, {
      headers: { 'Last-Event-ID': '\u00e9 12; x' },
    });
    expect(response.headers.get('content-type')).toBe('text/event-stream; charset=utf-8');
    expect(response.headers.get('content-encoding')).toBeNull();
    server.events.publish({ type: 'nuc', id: 'n1' });
    server.events.publish({ type: 'status' });
    expect(await eventsOf(response, 3)).toEqual([
      { type: 'hello', time: '2031-05-10T06:00:00.000Z', version: '0.0.0-test' },
      { type: 'nuc', id: 'n1' },
      { type: 'status' },
    ]);
  });

  it('tells a page about a log entry that another one wrote', async () => {
    server = await startServer();
    furnish(server);
    const response = await fetch(`${server.url}/api/v1/events`);
    const entry = {
      type: 'fact',
      id: 'note-0001',
      introductionId: 'intro-000001',
      happenedAtMs: 1,
      writtenAtMs: 1,
      fact: { kind: 'note' },
    };
    await send(`${server.url}/api/v1/log`, 'POST', { entries: [entry] });
    expect((await eventsOf(response, 2))[1]).toEqual({ type: 'nuc', id: 'n1', logged: true });
  });

  it('forgets a page that has gone, and ends with the server', async () => {
    server = await startServer();
    const gone = new AbortController();
    await fetch(`${server.url}/api/v1/events`, { signal: gone.signal });
    const stays = await fetch(`${server.url}/api/v1/events`);
    gone.abort();
    await expect.poll(() => server.events.clients).toBe(1);
    server.events.close();
    expect(await eventsOf(stays, 99)).toHaveLength(1);
  });

  it('drops a page that does not read, however much there is to tell, and serves the others', async () => {
    server = await startServer();
    const stuck = connect(server.port, '127.0.0.1');
    stuck.on('error', () => undefined);
    stuck.pause();
    stuck.write('GET /api/v1/events HTTP/1.1\r\nHost: localhost\r\n\r\n');
    const reads = await fetch(`${server.url}/api/v1/events`);
    await expect.poll(() => server.events.clients).toBe(2);
    const heard = heardOn(reads);
    await heard.next();
    // 20 MB: more than the system's socket buffers take for a reader who does not read.
    for (let i = 0; i < 2000; i += 1) {
      const event = { type: 'nuc', id: `${String(i)}-${'x'.repeat(10_000)}` } as const;
      server.events.publish(event);
      expect((await heard.next()).value).toEqual(event);
    }
    expect(server.events.clients).toBe(1);
    stuck.destroy();
  });

  it('is for those who are signed in, and says so when it is full', async () => {
    server = await startServer();
    await person(server, 'Rowan', 'keeper');
    expect(await problemOf(await fetch(`${server.url}/api/v1/events`))).toMatchObject({ status: 401 });
    const signedIn = await send(`${server.url}/api/v1/session`, 'POST', {
      name: 'Rowan',
      password: passwordOf('Rowan'),
    });
    server.events.close();
    const full = await fetch(`${server.url}/api/v1/events`, {
      headers: { Cookie: cookieFrom(signedIn) ?? '' },
    });
    expect(await problemOf(full)).toMatchObject({
      status: 503,
      detail: expect.stringContaining('Too many pages'),
    });
  });
});

describe('readiness', () => {
  it('is 200 when ready, and 503 with the reason when not', async () => {
    server = await startServer();
    const ready = await fetch(`${server.url}/healthz`);
    expect([ready.status, await ready.json()]).toEqual([200, { ready: true }]);
    await server.stop();
    server = await startServer({ notReady: 'the broker at farm.example is not connected' });
    const not = await fetch(`${server.url}/healthz`);
    expect([not.status, await not.json()]).toEqual([
      503,
      { ready: false, why: 'the broker at farm.example is not connected' },
    ]);
    const status = (await (await fetch(`${server.url}/api/v1/status`)).json()) as object;
    expect(status).toMatchObject({ ready: false, why: 'the broker at farm.example is not connected' });
  });
});

describe('the page', () => {
  it('is sent anew each time, its hashed files once, small', async () => {
    server = await startServer({ dashboardFolder: folder });
    const page = await fetch(server.url);
    expect(page.headers.get('content-type')).toMatch(/^text\/html/);
    expect(page.headers.get('cache-control')).toBe('no-cache');
    expect(await page.text()).toContain('<title>Page</title>');
    const script = await fetch(`${server.url}/assets/app-1a2b.js`);
    expect(script.headers.get('cache-control')).toBe('public, max-age=31536000, immutable');
    expect(script.headers.get('content-encoding')).toBe('gzip');
    expect((await script.text()).length).toBeGreaterThan(5000);
    expect((await fetch(`${server.url}/assets/app-9z9z.js`)).status).toBe(404);
    expect((await fetch(`${server.url}/.secret`)).status).toBe(404);
  });

  it('says how to build it where it is not built', async () => {
    server = await startServer();
    const answer = await fetch(server.url);
    expect(answer.status).toBe(503);
    expect(await answer.text()).toContain('npm run build');
  });

  it('works under a base path, stripped by the proxy or not', async () => {
    server = await startServer({ dashboardFolder: folder, settings: { basePath: '/bees' } });
    for (const path of ['/bees/', '/', '/bees/healthz', '/bees/api/v1/me', '/api/v1/me']) {
      expect((await fetch(server.url + path)).status, path).toBe(200);
    }
    const bare = await fetch(`${server.url}/bees?from=label`);
    expect([bare.status, bare.url]).toEqual([200, `${server.url}/bees/?from=label`]);
    const link = await send(`${server.url}/bees/api/v1/plan/calendar-link`, 'POST');
    expect((await link.json()) as object).toMatchObject({
      path: expect.stringMatching(/^\/bees\/calendar\//),
    });
  });
});

describe('the calendar', () => {
  const linkOf = async (headers: Record<string, string> = {}): Promise<string> => {
    const answer = await send(`${server.url}/api/v1/plan/calendar-link`, 'POST', undefined, headers);
    return ((await answer.json()) as { path: string }).path;
  };

  it('is at the same secret address each time, without a session', async () => {
    server = await startServer();
    const path = await linkOf();
    expect(await linkOf()).toBe(path);
    const feed = await fetch(server.url + path);
    expect(feed.headers.get('content-type')).toBe('text/calendar; charset=utf-8');
    expect(await feed.text()).toContain('X-WR-CALNAME:Demo farm');
    expect((await fetch(`${server.url}${path}?reminder=12`)).status).toBe(200);
    expect(await problemOf(await fetch(`${server.url}${path}?reminder=soon`))).toMatchObject({
      status: 400,
      detail: expect.stringContaining('1 to 72') as string,
    });
    const forged = path.replace(/.(?=\.ics)/, (c) => (c === 'A' ? 'B' : 'A'));
    expect(await problemOf(await fetch(server.url + forged))).toMatchObject({ status: 404 });
  });

  it('ends with the first password, with a new one, and with the person', async () => {
    server = await startServer();
    const before = await linkOf();
    const rowan = await person(server, 'Rowan', 'keeper');
    expect((await fetch(server.url + before)).status).toBe(404);
    const ash = await person(server, 'Ash', 'viewer');
    const signIn = async (): Promise<string> => {
      const body = { name: 'Ash', password: passwordOf('Ash') };
      return cookieFrom(await send(`${server.url}/api/v1/session`, 'POST', body)) ?? '';
    };
    const path = await linkOf({ Cookie: await signIn(), Origin: server.url });
    expect(await (await fetch(server.url + path)).text()).toContain('X-WR-CALNAME:Demo farm');
    server.store.people.setPassword(ash.id, rowan.passwordHash);
    expect((await fetch(server.url + path)).status).toBe(404);
    server.store.people.setPassword(ash.id, ash.passwordHash);
    expect((await fetch(server.url + path)).status).toBe(200);
    server.store.people.remove(ash.id);
    expect((await fetch(server.url + path)).status).toBe(404);
  });
});

describe('the description of the API', () => {
  it('is OpenAPI as an independent validator reads it, and names every operation', async () => {
    server = await startServer();
    const document = (await (await fetch(`${server.url}/api/v1/openapi.json`)).json()) as {
      paths: Record<string, Record<string, { operationId?: string }>>;
    };
    const verdict = await new Validator().validate(document);
    expect(verdict.errors).toBeUndefined();
    expect(verdict.valid).toBe(true);
    for (const [name, { method, path }] of Object.entries(operations)) {
      expect(document.paths[`/api/v1${path}`]?.[method]?.operationId).toBe(name);
    }
    for (const path of Object.values(otherPaths)) expect(document.paths[path]).toBeDefined();
  });
});
