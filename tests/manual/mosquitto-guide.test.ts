/** The configuration in the guide, as it stands there: a sensor writes below its own name, and Welcomb hears it. */
import { spawn, spawnSync, type ChildProcess } from 'node:child_process';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { createServer, type AddressInfo } from 'node:net';
import { join } from 'node:path';
import { connectAsync } from 'mqtt';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { missing, mosquitto } from '../support/programs.ts';
import { dropFolder, newFolder, startServer, type RunningServer } from '../support/server-process.ts';
import { until } from '../support/until.ts';

const guide = readFileSync(join(import.meta.dirname, '../../server/manual/mosquitto.md'), 'utf8');
const [conf = '', acl = ''] = [...guide.matchAll(/```\n(.*?)```/gs)].map(([, block = '']) => block);

describe.skipIf(missing('Mosquitto', mosquitto))('the guide’s own configuration', () => {
  const folder = newFolder();
  let broker: ChildProcess;
  let server: RunningServer;
  let port = 0;

  beforeAll(async () => {
    const socket = createServer();
    await new Promise<void>((resolve) => socket.listen(0, '127.0.0.1', resolve));
    port = (socket.address() as AddressInfo).port;
    await new Promise((resolve) => socket.close(resolve));
    mkdirSync(join(folder, 'kept'));
    const passwords = join(folder, 'passwd');
    writeFileSync(passwords, 'welcomb:hears-all\nscale-3:its-own\n', { mode: 0o600 });
    expect(spawnSync('mosquitto_passwd', ['-U', passwords]).status).toBe(0);
    writeFileSync(join(folder, 'acl'), acl, { mode: 0o600 });
    writeFileSync(
      join(folder, 'mosquitto.conf'),
      conf
        .replace('listener 1883', `listener ${String(port)} 127.0.0.1`)
        .replace('/etc/mosquitto/passwd', passwords)
        .replace('/etc/mosquitto/acl', join(folder, 'acl'))
        .replace('/var/lib/mosquitto/', `${join(folder, 'kept')}/`) +
        (process.getuid?.() === 0 ? 'user root\n' : ''),
    );
    broker = spawn(mosquitto ?? '', ['-c', join(folder, 'mosquitto.conf')], { stdio: 'ignore' });
    server = await startServer({
      args: ['--broker', `mqtt://127.0.0.1:${String(port)}`, '--broker-user', 'welcomb'],
      env: { WELCOMB_BROKER_PASSWORD: 'hears-all' },
    });
  }, 60_000);
  afterAll(async () => {
    await server.stop();
    broker.kill('SIGTERM');
    dropFolder(folder);
    dropFolder(server.data);
  });

  test('lets a sensor in below its own name alone, and nobody without a password', async () => {
    await until(async () => {
      const status = await server.get<{ broker: { connected: boolean } }>('/api/v1/status');
      return status.broker.connected ? true : undefined;
    }, 20_000);
    const url = `mqtt://127.0.0.1:${String(port)}`;
    await expect(connectAsync(url, { reconnectPeriod: 0 })).rejects.toThrow(/not authorized/i);
    const scale = await connectAsync(url, { username: 'scale-3', password: 'its-own' });
    await scale.publishAsync('welcomb/scale-4/weight', '99', { qos: 1 });
    await scale.publishAsync('welcomb/scale-3/weight', '12.4', { qos: 1 });
    const heard = await until(async () => {
      const { items } = await server.get<{ items: { sensor: string }[] }>('/api/v1/channels');
      return items.length > 0 ? items : undefined;
    }, 20_000);
    expect(heard.map(({ sensor }) => sensor)).toEqual(['scale-3']);
    // The list grants all that the server itself publishes: it never lost the connection.
    expect(server.output()).not.toMatch(/refuses|not connected/);
    expect(server.output().split('Connected.')).toHaveLength(2);
    await scale.endAsync();
  }, 60_000);
});
