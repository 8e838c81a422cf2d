/** A Mosquitto of our own on a free port. */
import { spawn, type ChildProcess } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { connect, createServer, type AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { mosquitto } from '../../support/programs.ts';

export interface RunningMosquitto {
  readonly port: number;
  readonly url: string;
  /** Of the process that runs now; 0 where none does. */
  pid(): number;
  /** SIGTERM, as a service manager does; what is queued is saved. */
  stop(): Promise<void>;
  start(): Promise<void>;
  /** Stops it and removes its folder. */
  remove(): Promise<void>;
}

export async function freePort(): Promise<number> {
  const server = createServer();
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.address() as AddressInfo;
  await new Promise((resolve) => server.close(resolve));
  return port;
}

async function untilOpen(port: number): Promise<void> {
  for (let attempt = 0; attempt < 200; attempt += 1) {
    const open = await new Promise<boolean>((resolve) => {
      const socket = connect(port, '127.0.0.1', () => {
        socket.destroy();
        resolve(true);
      });
      socket.on('error', () => {
        resolve(false);
      });
    });
    if (open) return;
    await new Promise((resolve) => setTimeout(resolve, 25));
  }
  throw new Error('mosquitto did not open its port');
}

/** Without the last two, what came since the last save is lost when it is killed; with them it saves on every change. */
const savingSettings = (folder: string): readonly string[] => [
  'persistence true',
  `persistence_location ${folder}/`,
  'autosave_on_changes true',
  'autosave_interval 1',
];

/** @param more further lines of its configuration */
export async function startMosquitto(
  inMemory = false,
  more: readonly string[] = [],
): Promise<RunningMosquitto> {
  if (mosquitto === undefined) throw new Error('mosquitto is not installed');
  const program = mosquitto;
  const folder = mkdtempSync(join(tmpdir(), 'welcomb-mosquitto-'));
  const port = await freePort();
  const file = join(folder, 'mosquitto.conf');
  const settings = [
    `listener ${String(port)} 127.0.0.1`,
    'allow_anonymous true',
    ...(inMemory ? ['persistence false'] : savingSettings(folder)),
    'max_queued_messages 0',
    ...(more.some((line) => line.startsWith('log_dest')) ? [] : ['log_dest none']),
    ...(process.getuid?.() === 0 ? ['user root'] : []),
    ...more,
  ];
  writeFileSync(file, `${settings.join('\n')}\n`);
  let child: ChildProcess | undefined;
  const running: RunningMosquitto = {
    port,
    url: `mqtt://127.0.0.1:${String(port)}`,
    pid: () => child?.pid ?? 0,
    async start() {
      child = spawn(program, ['-c', file], { stdio: 'ignore' });
      await untilOpen(port);
    },
    async stop() {
      const ended = child;
      child = undefined;
      if (!ended || ended.exitCode !== null) return;
      const exit = new Promise((resolve) => ended.once('exit', resolve));
      ended.kill('SIGTERM');
      await exit;
    },
    async remove() {
      await running.stop();
      rmSync(folder, { recursive: true, force: true });
    },
  };
  await running.start();
  return running;
}
