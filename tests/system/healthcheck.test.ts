/** The container's health check asks the server at the address that it was given, with and without TLS. */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { readFileSync } from 'node:fs';
import { createServer } from 'node:http';
import { createServer as createTlsServer } from 'node:https';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { expect, it, onTestFinished } from 'vitest';

const file = (name: string): string => join(import.meta.dirname, '../..', name);
const asked = /^HEALTHCHECK[^\n]*\\\n\s*CMD (.*)$/m.exec(
  readFileSync(file('server/packaging/Containerfile'), 'utf8'),
);
const [, ...args] = JSON.parse(asked?.[1] ?? '[]') as string[];
const pem = (name: string): Buffer => readFileSync(file(`tests/http/fixtures/localhost-${name}.pem`));

async function codeOf(http: string): Promise<unknown> {
  const check = spawn(process.execPath, args, {
    env: { ...process.env, WELCOMB_HTTP: http },
    stdio: 'ignore',
  });
  const [code] = (await once(check, 'exit')) as [number | null];
  return code;
}

it.each([
  ['0.0.0.0', createServer()],
  ['127.0.0.1', createTlsServer({ key: pem('key'), cert: pem('cert') })],
])('of a server at %s', async (host, server) => {
  let status = 200;
  server.on('request', (request, response) => {
    response.writeHead(request.url === '/healthz' ? status : 404).end();
  });
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  onTestFinished(() => {
    server.close();
  });
  const http = `${host}:${String((server.address() as AddressInfo).port)}`;
  expect(await codeOf(http)).toBe(0);
  status = 503;
  expect(await codeOf(http)).toBe(1);
  server.close();
  expect(await codeOf(http)).toBe(1);
});
