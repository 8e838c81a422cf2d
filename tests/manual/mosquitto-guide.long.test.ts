/**
 * The Mosquitto guide, followed word by word on Debian's own main file: the broker starts, a sensor writes below its
 * own name and nowhere else, and Welcomb keeps one connection and stores its reading once.
 */
import { spawn, spawnSync, type ChildProcess } from 'node:child_process';
import { chmodSync, chownSync, existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { connectAsync } from 'mqtt';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { freePort } from '../support/free-port.ts';
import { missing, mosquitto } from '../support/programs.ts';
import { dropFolder, newFolder, startServer, type RunningServer } from '../support/server-process.ts';
import { until } from '../support/until.ts';

const guide = readFileSync(join(import.meta.dirname, '../../server/manual/mosquitto.md'), 'utf8');
const [conf = '', acl = '', commands = ''] = [...guide.matchAll(/```\n(.*?)```/gs)].map(
  ([, block = '']) => block,
);

const packaged = '/etc/mosquitto/mosquitto.conf';
/** What Debian 12's package installs there, for a machine whose Mosquitto comes from elsewhere. */
const debianMain = `pid_file /run/mosquitto/mosquitto.pid
persistence true
persistence_location /var/lib/mosquitto/
log_dest file /var/log/mosquitto/mosquitto.log
include_dir /etc/mosquitto/conf.d
`;
const root = process.getuid?.() === 0;

describe.skipIf(missing('Mosquitto', mosquitto))('the guide on Debian’s main file', () => {
  const folder = newFolder();
  const within = (text: string): string =>
    text
      .replaceAll('/etc/mosquitto/', `${folder}/etc/`)
      .replaceAll('/var/lib/mosquitto/', `${folder}/lib/`)
      .replaceAll('/run/mosquitto/', `${folder}/run/`)
      .replaceAll('/var/log/mosquitto/', `${folder}/log/`);
  let broker: ChildProcess | undefined;
  let server: RunningServer;
  let port = 0;
  let printed = '';

  /** The rights that the guide’s own `chown` and `chmod` lines give; the package’s user reads by its group. */
  function giveRights(file: string): void {
    chmodSync(file, Number.parseInt(/chmod (\d+) \/etc\/mosquitto\/passwd/.exec(commands)?.[1] ?? '600', 8));
    const group = /chown root:(\w+) \/etc\/mosquitto\/passwd/.exec(commands)?.[1];
    if (root && group) expect(spawnSync('chown', [`root:${group}`, file]).status).toBe(0);
  }

  beforeAll(async () => {
    port = await freePort();
    for (const name of ['etc/conf.d', 'lib', 'run', 'log'])
      mkdirSync(join(folder, name), { recursive: true });
    const ids = root ? spawnSync('id', ['-u', 'mosquitto'], { encoding: 'utf8' }) : undefined;
    if (ids?.status === 0) {
      chmodSync(folder, 0o755);
      for (const name of ['lib', 'run', 'log']) chownSync(join(folder, name), Number(ids.stdout), 0);
    }
    const passwords = join(folder, 'etc/passwd');
    writeFileSync(passwords, 'welcomb:hears-all\nscale-3:its-own\n');
    expect(spawnSync('mosquitto_passwd', ['-U', passwords]).status).toBe(0);
    writeFileSync(join(folder, 'etc/acl'), acl);
    for (const file of [passwords, join(folder, 'etc/acl')]) giveRights(file);
    writeFileSync(
      join(folder, 'etc/conf.d/welcomb.conf'),
      within(conf).replace('listener 1883', `listener ${String(port)} 127.0.0.1`),
    );
    const main = existsSync(packaged) ? readFileSync(packaged, 'utf8') : debianMain;
    writeFileSync(join(folder, 'etc/mosquitto.conf'), within(main));
    broker = spawn(mosquitto ?? '', ['-c', join(folder, 'etc/mosquitto.conf')]);
    broker.stderr?.on('data', (some: Buffer) => (printed += some.toString()));
    server = await startServer({
      args: ['--broker', `mqtt://127.0.0.1:${String(port)}`, '--broker-user', 'welcomb'],
      env: { WELCOMB_BROKER_PASSWORD: 'hears-all' },
    });
  }, 60_000);
  afterAll(async () => {
    // First: it must not stay where the server could not start.
    broker?.kill('SIGTERM');
    await server.stop();
    dropFolder(folder);
    dropFolder(server.data);
  });

  test('one connection and one stored reading over ten seconds; a sensor writes below its own name alone', async () => {
    await until(async () => {
      if (broker?.exitCode !== null) throw new Error(`Mosquitto ended: ${printed}`);
      const status = await server.get<{ broker: { connected: boolean } }>('/api/v1/status');
      return status.broker.connected ? true : undefined;
    });
    const url = `mqtt://127.0.0.1:${String(port)}`;
    await expect(connectAsync(url, { reconnectPeriod: 0 })).rejects.toThrow(/not authorized/i);
    const scale = await connectAsync(url, { username: 'scale-3', password: 'its-own' });
    await scale.publishAsync('welcomb/scale-4/weight', '99', { qos: 1 });
    await scale.publishAsync('welcomb/scale-3/weight', '12.4', { qos: 1 });
    await until(async () => {
      const { items } = await server.get<{ items: unknown[] }>('/api/v1/channels');
      return items.length > 0 ? true : undefined;
    });
    await new Promise((resolve) => setTimeout(resolve, 10_000));
    const { items } = await server.get<{ items: { sensor: string; readings: number }[] }>('/api/v1/channels');
    expect(items.map(({ sensor, readings }) => ({ sensor, readings }))).toEqual([
      { sensor: 'scale-3', readings: 1 },
    ]);
    // The list grants all that the server itself publishes: it never lost the connection.
    expect(server.output()).not.toMatch(/refuses|not connected/);
    expect(server.output().split('Connected.')).toHaveLength(2);
    await scale.endAsync();
  }, 60_000);
});
