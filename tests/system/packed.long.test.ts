/**
 * What `npm pack` makes installs in an empty folder and runs there.
 *
 * Installed without install scripts, so that no compiler works for minutes: the SQLite module that was compiled for
 * this checkout, or for the Node under which `nodes.ts` runs this, is laid into the installed package. Without a
 * registry to ask, the packages of this checkout are linked.
 */
import { spawnSync } from 'node:child_process';
import {
  chmodSync,
  chownSync,
  copyFileSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { version } from '../../server/version.ts';
import { welcomb } from '../support/command.ts';
import { dropFolder, newFolder, startServer } from '../support/server-process.ts';

const root = join(import.meta.dirname, '../..');
const folder = newFolder();
const home = join(folder, 'home');
const installed = join(home, 'node_modules/welcomb');

const npm = (cwd: string, ...args: string[]) =>
  spawnSync('npm', [...args, '--silent', '--no-audit', '--no-fund'], {
    cwd,
    encoding: 'utf8',
    timeout: 120_000,
  });

beforeAll(() => {
  // The build is there already (these tests need it), so it is not made again.
  const packed = npm(root, 'pack', '--ignore-scripts', '--pack-destination', folder);
  expect(packed.stderr).toBe('');
  const tarball = join(folder, readdirSync(folder).find((name) => name.endsWith('.tgz')) ?? 'none');
  mkdirSync(home);
  writeFileSync(join(home, 'package.json'), '{"name": "home", "private": true}\n');
  const install = npm(home, 'install', '--prefer-offline', '--ignore-scripts', tarball);
  if (install.status === 0) layCompiledModule();
  else unpackAndLink(tarball);
}, 240_000);
afterAll(() => {
  dropFolder(folder);
});

const compiled = 'better-sqlite3/build/Release/better_sqlite3.node';
function layCompiledModule(): void {
  mkdirSync(join(home, 'node_modules', compiled, '..'), { recursive: true });
  const fitting = process.env['SQLITE_ADDON'] ?? join(root, 'node_modules', compiled);
  copyFileSync(fitting, join(home, 'node_modules', compiled));
}

function unpackAndLink(tarball: string): void {
  console.warn('No registry to install from: the packages of this checkout are linked instead.');
  mkdirSync(installed, { recursive: true });
  const unpacked = spawnSync('tar', ['-xzf', tarball, '--strip-components=1', '-C', installed]);
  expect(unpacked.status).toBe(0);
  symlinkSync(join(root, 'node_modules'), join(installed, 'node_modules'));
}

test('holds what runs and what an owner reads, and nothing of the workshop', () => {
  const all = readdirSync(installed, { recursive: true, encoding: 'utf8' }).filter(
    (name) => !name.startsWith('node_modules'),
  );
  for (const wanted of [
    'dist/server/command.js',
    'dist/dashboard/index.html',
    'README.md',
    'LICENSE',
    'NOTICE.md',
  ])
    expect(all).toContain(wanted);
  // Of pictures only the icons of the page; those of the guide stay with the source.
  const icon = /^dist\/dashboard\/(icon-|apple-touch-icon)/;
  expect(
    all.filter((name) => /^tests|\.tsx?$|\.map$|\.png$|\.test\./.test(name) && !icon.test(name)),
  ).toEqual([]);
  const { scripts } = JSON.parse(readFileSync(join(installed, 'package.json'), 'utf8')) as {
    scripts: Record<string, string>;
  };
  // Nothing of ours runs on the owner's machine while it installs.
  expect(Object.keys(scripts).filter((name) => /^(pre|post)?install$/.test(name))).toEqual([]);
});

test('starts, serves its page and checks its database', async () => {
  const program = join(installed, 'dist/server/command.js');
  const data = join(folder, 'data');
  const server = await startServer({ program: [program, 'start'], data });
  try {
    const page = await fetch(server.http);
    expect(page.status).toBe(200);
    expect(await page.text()).toContain('<title>Welcomb</title>');
    expect(await server.get('/healthz')).toEqual({ ready: true });
    expect(await server.get('/api/v1/status')).toMatchObject({ ready: true, version });
    const beside = await welcomb(['check', '--data', data], { program });
    expect(beside).toMatchObject({ code: 0, err: '' });
    expect(beside.out).toContain('A server runs on this folder.');
  } finally {
    expect(await server.stop()).toBe(0);
  }
  const after = await welcomb(['check', '--data', data], { program });
  expect(after.out).toContain('is whole');
  expect(after.out).toContain('No server runs on this folder.');
}, 60_000);

test.runIf(process.getuid?.() === 0)(
  'runs as a user who owns nothing but the data',
  async () => {
    // "nobody" on every Linux.
    const user = 65534;
    const data = join(folder, 'of-nobody');
    mkdirSync(data);
    chownSync(data, user, user);
    // What mkdtemp makes is closed to others.
    chmodSync(folder, 0o755);
    const program = [join(installed, 'dist/server/command.js'), 'start'];
    const server = await startServer({ program, data, user, env: { HOME: '/nonexistent' } });
    try {
      expect(await server.get('/api/v1/status')).toMatchObject({ ready: true });
      expect(statSync(join(data, 'welcomb.db')).uid).toBe(user);
    } finally {
      expect(await server.stop()).toBe(0);
    }
  },
  60_000,
);

test('is called welcomb', async () => {
  const link = join(home, 'node_modules/.bin/welcomb');
  // Where the packages were linked, npm made no link of its own.
  if (!existsSync(join(home, 'node_modules/.bin'))) return;
  expect((await welcomb(['--version'], { program: link })).out).toBe(`${version}\n`);
});
