import { createServer } from 'node:http';
import { UserError } from '../../server/user-error.ts';
import type { IncomingMessage, ServerResponse } from 'node:http';
import { connect } from 'node:net';
import type { AddressInfo } from 'node:net';
import { describe, expect, it } from 'vitest';
import { listen } from '../../server/http/listen.ts';

const loopback = { host: '127.0.0.1', port: 0 };

describe('listening', () => {
  it('says in one sentence that a port is in use', async () => {
    const other = createServer();
    await new Promise<void>((resolve) => other.listen(0, '127.0.0.1', resolve));
    const { port } = other.address() as AddressInfo;
    await expect(listen(() => undefined, { host: '127.0.0.1', port })).rejects.toThrow(
      new UserError(
        'cannot-start',
        `The page can't be served at 127.0.0.1:${String(port)}: another program uses it already; stop that one or choose another with --http.`,
      ),
    );
    other.close();
  });

  it('names a certificate file that is not there', async () => {
    const tls = { key: '/nowhere/key.pem', cert: '/nowhere/cert.pem' };
    await expect(listen(() => undefined, { ...loopback, tls })).rejects.toThrow(
      /"httpTls\.key" can't be read: there is no such file/,
    );
  });

  it('ends streams and finishes answers under way when it stops', async () => {
    const streams: ServerResponse[] = [];
    let asked: () => void = () => undefined;
    const underWay = new Promise<void>((resolve) => (asked = resolve));
    const answer = (request: IncomingMessage, response: ServerResponse): void => {
      if (request.url === '/stream') {
        streams.push(response);
        response.write('begin');
      } else {
        asked();
        setTimeout(() => response.end('whole answer'), 100);
      }
    };
    // A kept-alive connection must not hold the stop up until the grace runs out: that would outlast the test.
    const server = await listen(answer, { ...loopback, graceMs: 60_000 });
    const stream = await fetch(`${server.url}/stream`);
    const slow = fetch(`${server.url}/slow`);
    await underWay;
    await server.stop(() => {
      for (const response of streams) response.end('!');
    });
    expect(await stream.text()).toBe('begin!');
    expect(await (await slow).text()).toBe('whole answer');
    await expect(fetch(server.url)).rejects.toThrow();
  });

  it('does not wait for a connection that never asked for anything', async () => {
    const server = await listen(() => undefined, { ...loopback, graceMs: 60_000 });
    const socket = connect(server.port, '127.0.0.1');
    const closed = new Promise((resolve) => socket.once('close', resolve));
    await new Promise((resolve) => socket.once('connect', resolve));
    await server.stop();
    await closed;
  });

  it('stops although somebody holds a connection open', async () => {
    const server = await listen(() => undefined, { ...loopback, graceMs: 50 });
    const socket = connect(server.port, '127.0.0.1');
    socket.on('error', () => undefined);
    await new Promise((resolve) => socket.write('GET / HTTP/1.1\r\nHost: localhost\r\n\r\n', resolve));
    await server.stop();
    socket.destroy();
  });
});
