/** HTTPS by certificate files, and what is said when they don't fit. */
import { request } from 'node:https';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';
import { listen } from '../../server/http/listen.ts';

// Made for these tests alone with a common command-line tool: a key for "localhost", signed by itself.
const file = (name: string): string => fileURLToPath(new URL(`fixtures/${name}`, import.meta.url));
const tls = { key: file('localhost-key.pem'), cert: file('localhost-cert.pem') };

it('serves over TLS with the given certificate, and stops', async () => {
  const server = await listen((_request, response) => response.end('safe'), {
    host: '127.0.0.1',
    port: 0,
    tls,
  });
  expect(server.url).toBe(`https://127.0.0.1:${String(server.port)}`);
  const text = await new Promise<string>((resolve, reject) => {
    const asked = request(server.url, { ca: readFileSync(tls.cert) }, (answer) => {
      answer.setEncoding('utf8').once('data', resolve);
    });
    asked.once('error', reject).end();
  });
  expect(text).toBe('safe');
  await server.stop();
});

it('says that key and certificate do not belong together', async () => {
  const swapped = { key: tls.cert, cert: tls.key };
  await expect(listen(() => undefined, { host: '127.0.0.1', port: 0, tls: swapped })).rejects.toThrow(
    /^The certificate and key of "httpTls" don't work together: /,
  );
});
