/** Path traversal, oversized and slow bodies, header injection, and a script in a nuc's name. */
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import express from 'express';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { bodyDeadline } from '../../server/http/access/limits.ts';
import { listen } from '../../server/http/listen.ts';
import type { TestServer } from '../http/support/server.ts';
import { furnish, startServer } from '../http/support/server.ts';
import { ask, json, talk } from './support.ts';

let server: TestServer;
const folder = mkdtempSync(join(tmpdir(), 'welcomb-page-'));
beforeAll(async () => {
  mkdirSync(join(folder, 'page'));
  writeFileSync(join(folder, 'outside.txt'), 'never to be seen');
  writeFileSync(join(folder, 'page', 'index.html'), '<!doctype html><title>Page</title>');
  server = await startServer({ dashboardFolder: join(folder, 'page') });
  furnish(server);
});
afterAll(async () => {
  await server.stop();
  rmSync(folder, { recursive: true });
});

describe('paths that climb out of the folder', () => {
  it.each([
    '/../outside.txt',
    '/..%2foutside.txt',
    '/%2e%2e/outside.txt',
    '/%2e%2e%2foutside.txt',
    '/..%5coutside.txt',
    '/%252e%252e%252foutside.txt',
    '/assets/../../outside.txt',
    '//../outside.txt',
    '/index.html%00.txt',
    '/....//outside.txt',
    '/api/v1/../../../outside.txt',
    '/calendar/..%2f..%2foutside.txt.ics',
  ])('%s leads nowhere', async (path) => {
    const answer = await ask(server.port, path);
    expect([400, 403, 404]).toContain(answer.status);
    expect(answer.body).not.toContain('never to be seen');
  });
});

it.each(['bytes=999999999-', 'bytes=5-1', 'bytes=0-0,1-1', 'bytes=-0'])(
  'a part of the page that is not there is no fault of the server: %s',
  async (range) => {
    const answer = await ask(server.port, '/', { headers: { Range: range } });
    expect(answer.status).toBe(200);
    expect(answer.body).toContain('<title>Page</title>');
  },
);

describe('bodies', () => {
  it('that are too large are refused, by length and by what comes', async () => {
    const long = JSON.stringify({ name: 'x'.repeat(1_100_000) });
    const headers = { 'Content-Type': 'application/json' };
    const told = await ask(server.port, '/api/v1/sites', { method: 'POST', headers, body: long });
    const untold = await ask(server.port, '/api/v1/sites', {
      method: 'POST',
      headers: { ...headers, 'Transfer-Encoding': 'chunked' },
      body: long,
    });
    expect([told.status, untold.status]).toEqual([413, 413]);
  });

  it('that unfold to something large are refused', async () => {
    const { gzipSync } = await import('node:zlib');
    const bomb = gzipSync(Buffer.alloc(20_000_000, 0x20));
    const answer = await fetch(`${server.url}/api/v1/sites`, {
      method: 'POST',
      headers: { 'Content-Type': 'application/json', 'Content-Encoding': 'gzip' },
      body: bomb,
    });
    expect(answer.status).toBe(413);
  });

  it.each(['gzip', 'deflate', 'br'])(
    'that are not %s although they say so are refused in words',
    async (encoding) => {
      const answer = await fetch(`${server.url}/api/v1/sites`, {
        method: 'POST',
        headers: { 'Content-Type': 'application/json', 'Content-Encoding': encoding },
        body: 'not compressed',
      });
      expect(answer.status).toBe(400);
      expect(await answer.json()).toMatchObject({
        type: 'invalid-input',
        detail: 'The body of this request can’t be read: it is not encoded as it says.',
      });
    },
  );

  it('that are nested deeply do no harm', async () => {
    const deep = `{"name":${'['.repeat(100_000)}${']'.repeat(100_000)}}`;
    const headers = { 'Content-Type': 'application/json' };
    expect((await ask(server.port, '/api/v1/sites', { method: 'POST', headers, body: deep })).status).toBe(
      400,
    );
  });

  it('can’t reach the prototype of our objects', async () => {
    const body =
      '{"name":"Hill","timeZone":"UTC","latDeg":1,"lonDeg":1,"__proto__":{"role":"keeper"},"id":"__proto__"}';
    const headers = { 'Content-Type': 'application/json' };
    await ask(server.port, '/api/v1/sites', { method: 'POST', headers, body });
    expect(({} as { role?: string }).role).toBeUndefined();
  });

  it('that come too slowly end in 408 and a closed connection', async () => {
    const app = express();
    app.use(bodyDeadline(100), express.json());
    const slow = await listen(app, { host: '127.0.0.1', port: 0 });
    const head =
      'POST / HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\nContent-Length: 100\r\n\r\n{"a"';
    const heard = await talk(slow.port, head);
    expect(heard).toMatch(/^HTTP\/1\.1 408 Request Timeout\r\n/);
    expect(heard).toContain('took too long to arrive');
    await slow.stop();
  });

  it('whose very head comes too slowly are cut off', async () => {
    const slow = await listen(express(), { host: '127.0.0.1', port: 0, requestTimeoutMs: 100 });
    expect(await talk(slow.port, 'GET / HTTP/1.1\r\nHost: loc')).toMatch(/^(HTTP\/1\.1 408 .*)?/s);
    await slow.stop();
  });
});

describe('line breaks in what becomes a header', () => {
  it('make no header', async () => {
    server.store.places.putHive({
      id: 'n3',
      siteId: 's1',
      role: 'nuc',
      name: 'a"\r\nX-Injected: 1',
      box: {},
      createdAtMs: 0,
    });
    for (const path of ['/api/v1/nucs/n3', '/api/v1/nucs/x%0d%0aX-Injected:%201', '/%0d%0aX-Injected:%201']) {
      expect((await ask(server.port, path)).headers['x-injected']).toBeUndefined();
    }
    const answer = await talk(
      server.port,
      'GET /api/v1/me HTTP/1.1\r\nHost: localhost\r\nOrigin: a\rX-Injected: 1\r\nConnection: close\r\n\r\n',
    );
    expect(answer).toMatch(/^HTTP\/1\.1 400 /);
  });

  it('and two requests in one are not taken', async () => {
    const smuggled =
      'POST /api/v1/sites HTTP/1.1\r\nHost: localhost\r\nContent-Length: 4\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n';
    expect(await talk(server.port, smuggled)).toMatch(/^HTTP\/1\.1 400 /);
  });
});

describe('a script in a nuc’s name', () => {
  const name = '<script>alert(1)</script><img src=x onerror=alert(1)>';
  it('comes back as data that no browser runs', async () => {
    await ask(server.port, '/api/v1/hives', json({ id: 'n4', name, siteId: 's1' }));
    for (const path of ['/api/v1/nucs', '/api/v1/nucs/n4', '/api/v1/hives']) {
      const answer = await ask(server.port, path);
      expect(JSON.parse(answer.body)).toMatchObject({});
      expect(answer.headers).toMatchObject({
        'content-type': 'application/json; charset=utf-8',
        'x-content-type-options': 'nosniff',
      });
    }
    const problem = await ask(server.port, `/api/v1/nucs/${encodeURIComponent(name)}`);
    expect(problem.headers['content-type']).toBe('application/problem+json; charset=utf-8');
    const unknown = await ask(server.port, `/${encodeURIComponent(name)}`, {
      headers: { Accept: 'text/html' },
    });
    expect(unknown.headers['content-type']).toBe('application/problem+json; charset=utf-8');
  });

  it('would not run in the page either: every answer forbids inline and foreign scripts, frames and plug-ins', async () => {
    for (const path of ['/', '/api/v1/me', '/healthz', '/nowhere']) {
      const { headers } = await ask(server.port, path);
      expect(headers['content-security-policy']).toBe(
        "default-src 'self';img-src 'self' data:;object-src 'none';base-uri 'none';form-action 'self';frame-ancestors 'none'",
      );
      expect(headers['x-powered-by']).toBeUndefined();
      expect(headers['referrer-policy']).toBe('no-referrer');
    }
  });
});
