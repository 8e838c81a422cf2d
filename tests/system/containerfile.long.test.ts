/**
 * The container file's steps, one by one, in clean folders: no engine for containers is needed, and none of its images.
 * Absolute paths of a stage lie in the stage's folder. What ends up in the last one runs as a user who owns only `/data`.
 */
import { spawn, spawnSync } from 'node:child_process';
import { chmodSync, chownSync, cpSync, existsSync, mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { dropFolder, newFolder } from '../support/server-process.ts';

const root = join(import.meta.dirname, '../..');
const folder = newFolder();
const isRoot = process.getuid?.() === 0;
/** `nobody` on every Linux. */
const nobody = 65534;

/** Steps with their lines joined. */
const steps = readFileSync(join(root, 'server/packaging/Containerfile'), 'utf8')
  .replaceAll(/\\\n\s*/g, ' ')
  .split('\n')
  .filter((line) => line.trim() !== '' && !line.startsWith('#'))
  .map((line) => {
    const [word = '', ...rest] = line.trim().split(' ');
    return { word, rest: rest.join(' ') };
  });

interface Stage {
  readonly name: string;
  readonly base: string;
  readonly env: Record<string, string>;
  work: string;
  user: string;
  command: string[];
}
const stages: Stage[] = [];
const placed = (stage: Stage, path: string): string =>
  join(folder, stage.name, path.startsWith('/') ? path : join(stage.work, path));

function copy(stage: Stage, rest: string): void {
  const words = rest.split(' ').filter((word) => !word.startsWith('--from='));
  const from = /--from=(\S+)/.exec(rest)?.[1];
  const source = stages.find(({ name }) => name === from);
  const target = words.pop() ?? '.';
  for (const word of words) {
    const found = source ? placed(source, word) : join(checkout, word);
    const into =
      target.endsWith('/') || words.length > 1 ? join(target, word.split('/').at(-1) ?? '') : target;
    cpSync(found, placed(stage, word === '.' ? target : into), { recursive: true });
  }
}

/** Only what git knows: that is what a checkout holds. */
const checkout = join(folder, 'checkout');
function makeCheckout(): void {
  mkdirSync(checkout);
  const made = spawnSync('sh', ['-c', `git ls-files -z | xargs -0 cp --parents -t ${checkout}`], {
    cwd: root,
  });
  expect(made.status).toBe(0);
}

function runStep(stage: Stage, rest: string): void {
  const own = rest
    .replaceAll(/(?<=\s|^)\/(?=app|data|usr)/g, `${join(folder, stage.name)}/`)
    // The base image has this user; here another one takes over below.
    .replaceAll(/-o node -g node /g, '');
  const here = placed(stage, '.');
  mkdirSync(join(folder, stage.name, 'usr/local/bin'), { recursive: true });
  // Compilers work for minutes: the module that was compiled for this checkout is laid in below.
  const command = own.replaceAll('npm ci', 'npm ci --ignore-scripts --prefer-offline --no-audit --no-fund');
  const env = { ...process.env, ...stage.env };
  const done = spawnSync('sh', ['-ec', command], { cwd: here, encoding: 'utf8', env, timeout: 400_000 });
  expect(`${command}: ${done.status === 0 ? '' : `${done.stdout}${done.stderr}`}`).toBe(`${command}: `);
  const compiled = 'node_modules/better-sqlite3/build/Release/better_sqlite3.node';
  if (own.includes('npm ci')) cpSync(join(root, compiled), join(here, compiled));
}

beforeAll(() => {
  makeCheckout();
  for (const { word, rest } of steps) {
    const stage = stages.at(-1);
    if (word === 'FROM') {
      const [base = '', , name = `stage-${String(stages.length)}`] = rest.split(' ');
      stages.push({ name, base, env: {}, work: '/', user: 'root', command: [] });
      mkdirSync(join(folder, name));
    } else if (!stage) throw new Error(`${word} stands before FROM`);
    else if (word === 'WORKDIR') {
      stage.work = rest;
      mkdirSync(placed(stage, '.'), { recursive: true });
    } else if (word === 'COPY') copy(stage, rest);
    else if (word === 'RUN') runStep(stage, rest);
    else if (word === 'ENV')
      for (const [, name = '', value = ''] of rest.matchAll(/(\w+)=(\S+)/g)) stage.env[name] = value;
    else if (word === 'USER') stage.user = rest;
    else if (word === 'CMD') stage.command = JSON.parse(rest) as string[];
  }
}, 900_000);
afterAll(() => {
  dropFolder(folder);
}, 120_000);

test('are of words that are known here, and take a Node that this runs on', () => {
  const known = 'FROM WORKDIR COPY RUN ENV USER VOLUME EXPOSE HEALTHCHECK STOPSIGNAL CMD'.split(' ');
  expect(steps.filter(({ word }) => !known.includes(word))).toEqual([]);
  expect(stages.map(({ base }) => /node:(\d+)-/.exec(base)?.[1])).toEqual(['24', '24']);
});

test('leave a server that starts as a plain user and writes to its data alone', async () => {
  const last = stages.at(-1);
  if (!last) throw new Error('no stage');
  expect(last.user).toBe('node');
  const home = join(folder, last.name);
  const data = join(home, 'data');
  // Development tools are not in it.
  expect(existsSync(placed(last, 'node_modules/vitest'))).toBe(false);
  if (isRoot) {
    chmodSync(folder, 0o755);
    chownSync(data, nobody, nobody);
  }
  const [program = '', ...args] = last.command;
  const child = spawn(join(home, 'usr/local/bin', program), args, {
    cwd: placed(last, '.'),
    env: {
      PATH: process.env['PATH'],
      ...last.env,
      WELCOMB_DATA: data,
      SQLITE_TMPDIR: data,
      WELCOMB_HTTP: '127.0.0.1:0',
      WELCOMB_MQTT: '127.0.0.1:0',
    },
    ...(isRoot && { uid: nobody, gid: nobody }),
  });
  let output = '';
  const ended = new Promise<number | null>((resolve) => child.once('exit', resolve));
  const address = new Promise<string>((resolve, reject) => {
    const look = (text: Buffer): void => {
      output += text.toString();
      const found = /^Dashboard: (\S+)$/m.exec(output)?.[1];
      if (found !== undefined) resolve(found);
    };
    child.stdout.on('data', look);
    child.stderr.on('data', look);
    void ended.then((code) => {
      reject(new Error(`it ended with ${String(code)}:\n${output}`));
    });
  });
  const url = await address;
  expect(await (await fetch(`${url}/healthz`)).json()).toEqual({ ready: true });
  expect(await (await fetch(url)).text()).toContain('<title>Welcomb</title>');
  expect(existsSync(join(data, 'welcomb.db'))).toBe(true);
  child.kill('SIGTERM');
  expect(await ended).toBe(0);
}, 120_000);
