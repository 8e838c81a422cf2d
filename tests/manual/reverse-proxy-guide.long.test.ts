/** The reverse proxy guide’s own nginx block on a port other than 443: a keeper signs in, the page is live, one reading arrives. */
import { spawn, type ChildProcess } from 'node:child_process';
import { chmodSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { request, type IncomingMessage } from 'node:http';
import { join } from 'node:path';
import { connectAsync } from 'mqtt';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { freePort } from '../support/free-port.ts';
import { missing, nginx } from '../support/programs.ts';
import {
  dropFolder,
  newFolder,
  setupCodeOf,
  startServer,
  type RunningServer,
} from '../support/server-process.ts';
import { until } from '../support/until.ts';

const guide = readFileSync(join(import.meta.dirname, '../../server/manual/reverse-proxy.md'), 'utf8');
const location = /```\n(location \/bees\/.*?)```/s.exec(guide)?.[1] ?? '';
const [, start = ''] = /```\nwelcomb start (.*?)\n```/.exec(guide) ?? [];
const password = 'four plain words here';
/** As a browser writes it: with the port, since it is not the standard one. */
const name = (port: number): string => `home.example.org:${String(port)}`;

describe.skipIf(missing('nginx', nginx))('the guide’s nginx block', () => {
  const folder = newFolder();
  let proxy: ChildProcess;
  let server: RunningServer;
  let port = 0;

  async function ask(
    method: string,
    path: string,
    { body, cookie = '' }: { body?: unknown; cookie?: string } = {},
  ): Promise<IncomingMessage> {
    const headers = {
      Host: name(port),
      ...(method === 'GET' ? {} : { Origin: `http://${name(port)}`, 'Content-Type': 'application/json' }),
      ...(cookie === '' ? {} : { Cookie: cookie }),
    };
    return new Promise((resolve, reject) => {
      const asked = request({ host: '127.0.0.1', port, method, path: `/bees${path}`, headers }, resolve);
      asked.on('error', reject).end(body === undefined ? undefined : JSON.stringify(body));
    });
  }
  const json = async (answer: IncomingMessage): Promise<unknown> => {
    let text = '';
    for await (const some of answer) text += String(some);
    return JSON.parse(text);
  };

  beforeAll(async () => {
    server = await startServer({
      args: start.split(' ').filter((word) => !/^(--http|127.0.0.1:8480)$/.test(word)),
    });
    await fetch(`${new URL(server.http).origin}/bees/api/v1/password`, {
      method: 'POST',
      headers: { 'Content-Type': 'application/json' },
      body: JSON.stringify({ name: 'Rowan', password, code: setupCodeOf(server) }),
    });
    port = await freePort();
    mkdirSync(join(folder, 'temp'));
    // The package's workers are not root.
    chmodSync(folder, 0o755);
    chmodSync(join(folder, 'temp'), 0o777);
    const temporary = ['client_body', 'proxy', 'fastcgi', 'uwsgi', 'scgi']
      .map((kind) => `${kind}_temp_path ${folder}/temp;`)
      .join('\n');
    writeFileSync(
      join(folder, 'nginx.conf'),
      `pid ${folder}/nginx.pid; daemon off; error_log ${folder}/error.log; worker_processes 1;
events {}
http { access_log off; ${temporary}
server { listen 127.0.0.1:${String(port)};
${location.replace('http://127.0.0.1:8480', new URL(server.http).origin)}
} }
`,
    );
    proxy = spawn(
      nginx ?? '',
      ['-p', folder, '-e', join(folder, 'error.log'), '-c', join(folder, 'nginx.conf')],
      {
        stdio: 'ignore',
      },
    );
    await until(() =>
      ask('GET', '/api/v1/session').then(
        () => true,
        () => undefined,
      ),
    );
  }, 60_000);
  afterAll(async () => {
    proxy.kill('SIGTERM');
    await server.stop();
    dropFolder(folder);
    dropFolder(server.data);
  });

  test('lets a keeper sign in, streams the events, and shows one reading after ten seconds', async () => {
    const signedIn = await ask('POST', '/api/v1/session', { body: { name: 'Rowan', password } });
    signedIn.resume();
    expect(signedIn.statusCode).toBe(200);
    const cookie = signedIn.headers['set-cookie']?.[0]?.split(';')[0] ?? '';
    const events = await ask('GET', '/api/v1/events', { cookie });
    expect(events.statusCode).toBe(200);
    let live = '';
    let ended = false;
    events.on('data', (some: Buffer) => (live += some.toString()));
    events.on('end', () => (ended = true));
    const sensor = await connectAsync(server.mqtt);
    await sensor.publishAsync('welcomb/scale-3/weight', '12.4', { qos: 1 });
    await new Promise((resolve) => setTimeout(resolve, 10_000));
    expect(await json(await ask('GET', '/api/v1/channels', { cookie }))).toMatchObject({
      items: [{ sensor: 'scale-3', readings: 1 }],
    });
    expect(live).toContain('"type":"hello"');
    expect(ended).toBe(false);
    events.destroy();
    await sensor.endAsync();
  }, 60_000);
});
