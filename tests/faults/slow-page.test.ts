/** A page that stops reading its stream: it is let go, the others hear everything, and memory does not grow with it. */
import { connect } from 'node:net';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { startServer, type TestServer } from '../http/support/server.ts';
import { until } from '../support/until.ts';

let server: TestServer;
beforeAll(async () => {
  server = await startServer();
});
afterAll(() => server.stop());

test('over a real socket', async () => {
  const reading = new AbortController();
  const good = await fetch(`${server.url}/api/v1/events`, { signal: reading.signal });
  let heard = 0;
  const listening = (async () => {
    const decoder = new TextDecoder();
    for await (const piece of good.body!)
      heard += decoder.decode(piece as Uint8Array).split('"nuc"').length - 1;
  })().catch(() => undefined);

  const slow = connect(server.port, '127.0.0.1');
  slow.on('error', () => undefined);
  slow.write('GET /api/v1/events HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n');
  await until(() => (server.events.clients === 2 ? true : undefined));
  slow.pause();

  const before = process.memoryUsage().rss;
  const id = 'x'.repeat(1000);
  let sent = 0;
  // More than the socket's own buffers on both sides can hold, so that it has to pile up here.
  while (server.events.clients === 2 && sent < 60_000) {
    for (let i = 0; i < 50; i += 1) server.events.publish({ type: 'nuc', id });
    sent += 50;
    // The page that reads is never behind, however slow the machine: only the other one is.
    while (heard < sent && server.events.clients > 0) await new Promise((resolve) => setTimeout(resolve, 1));
  }
  expect(server.events.clients).toBe(1);
  expect((process.memoryUsage().rss - before) / 1e6).toBeLessThan(150);
  slow.destroy();
  reading.abort();
  await listening;
}, 60_000);
