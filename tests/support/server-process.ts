/** The real server as a child process on free ports in a folder of its own, for whole-path tests. */
import { spawn, type ChildProcess } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';

const built = join(import.meta.dirname, '../../dist/server/main.js');

export interface RunningServer {
  readonly http: string;
  readonly mqtt: string;
  readonly data: string;
  readonly process: ChildProcess;
  /** Everything that it printed so far. */
  output(): string;
  get<T>(path: string): Promise<T>;
  send<T>(method: string, path: string, body: unknown): Promise<T>;
  /** SIGTERM; resolves with the exit code. */
  stop(): Promise<number | null>;
  /** kill -9. */
  kill(): Promise<void>;
}

export interface StartOptions {
  readonly data?: string;
  /** Another installation's program, with the words before its options. */
  readonly program?: readonly string[];
  readonly args?: readonly string[];
  readonly env?: Readonly<Record<string, string>>;
  /** Whom it runs as; only root can say so. */
  readonly user?: number;
}

export const newFolder = (): string => mkdtempSync(join(tmpdir(), 'welcomb-test-'));
export const dropFolder = (folder: string): void => {
  rmSync(folder, { recursive: true, force: true });
};

/** What it printed last for the first password: it starts again with a backup that was brought back. */
export const setupCodeOf = ({ output }: RunningServer): string =>
  [...output().matchAll(/^Setup code, for the first password: (\S+)/gm)].at(-1)?.[1] ?? 'none';

/** Environment of a server to which every request seems to come from this address. */
export const seenFrom = (peer: string): Readonly<Record<string, string>> => ({
  TEST_PEER: peer,
  NODE_OPTIONS: `--import ${pathToFileURL(join(import.meta.dirname, 'seen-from.mjs')).href}`,
});

/** Starts it and waits until it says where it listens. Needs `npm run build` first. */
export async function startServer(options: StartOptions = {}): Promise<RunningServer> {
  const program = options.program ?? [built];
  if (!existsSync(program[0] ?? '')) throw new Error('the built server is missing: run npm run build first');
  const data = options.data ?? newFolder();
  const args = ['--data', data, '--http', '127.0.0.1:0', '--mqtt', '127.0.0.1:0', ...(options.args ?? [])];
  const child = spawn(process.execPath, [...program, ...args], {
    env: { ...process.env, ...options.env },
    ...(options.user !== undefined && { uid: options.user, gid: options.user }),
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let output = '';
  const ended = new Promise<number | null>((resolve) => child.on('exit', resolve));
  const addresses = new Promise<{ http: string; mqtt: string }>((resolve, reject) => {
    const look = (chunk: Buffer): void => {
      output += chunk.toString('utf8');
      const http = /^Dashboard: (\S+)$/m.exec(output)?.[1];
      const mqtt = /^MQTT: (\S+)$/m.exec(output)?.[1];
      if (http !== undefined && mqtt !== undefined) resolve({ http, mqtt });
    };
    child.stdout.on('data', look);
    child.stderr.on('data', look);
    void ended.then((code) => {
      reject(new Error(`the server ended with ${String(code)} before it was ready:\n${output}`));
    });
  });
  const { http, mqtt } = await addresses;

  async function request<T>(method: string, path: string, body?: unknown): Promise<T> {
    const response = await fetch(new URL(path, http), {
      method,
      headers: { 'content-type': 'application/json', origin: new URL(http).origin },
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
    });
    const text = await response.text();
    if (!response.ok) throw new Error(`${method} ${path}: ${String(response.status)} ${text}`);
    return (text === '' ? undefined : JSON.parse(text)) as T;
  }

  return {
    http,
    mqtt,
    data,
    process: child,
    output: () => output,
    get: (path) => request('GET', path),
    send: request,
    async stop() {
      child.kill('SIGTERM');
      return ended;
    },
    async kill() {
      child.kill('SIGKILL');
      await ended;
    },
  };
}
