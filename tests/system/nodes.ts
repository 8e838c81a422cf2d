/**
 * Runs tests under other Nodes, and what `npm pack` makes: `npm run test:nodes`, or with majors and paths,
 * `npm run test:nodes -- 24 tests/store`.
 * The binaries are the packages `node-<system>-<processor>` of the npm registry, which bring the headers too; the SQLite
 * module is compiled against these (some minutes, once). All of it is kept in `.cache/nodes`.
 */
import { spawnSync, type SpawnSyncReturns } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, readdirSync, realpathSync, rmSync } from 'node:fs';
import { delimiter, dirname, join } from 'node:path';

const root = join(import.meta.dirname, '../..');
const cache = join(root, '.cache/nodes');
const given = process.argv.slice(2);
const isMajor = (word: string): boolean => /^\d+$/.test(word);
const majors = given.some(isMajor) ? given.filter(isMajor) : ['20', '22', '24'];
const named = given.filter((word) => !isMajor(word));
const paths =
  named.length > 0
    ? named
    : ['tests/store', 'tests/ingest', 'tests/http', 'tests/commands', 'tests/settings'];

function run(
  command: string,
  args: readonly string[],
  cwd: string,
  env: NodeJS.ProcessEnv = {},
): SpawnSyncReturns<string> {
  const done = spawnSync(command, args, { cwd, encoding: 'utf8', env: { ...process.env, ...env } });
  if (done.status !== 0) throw new Error(`${command} ${args.join(' ')}: ${done.stderr}${done.stdout}`);
  return done;
}

const withFirst = (folder: string): string => `${folder}${delimiter}${process.env['PATH'] ?? ''}`;

/** The folder of a Node of this major. */
function fetchNode(major: string): string {
  const folder = join(cache, major);
  if (existsSync(join(folder, 'bin/node'))) return folder;
  rmSync(folder, { recursive: true, force: true });
  mkdirSync(folder, { recursive: true });
  const wanted = `node-${process.platform}-${process.arch}@${major}`;
  run('npm', ['pack', wanted, '--silent', '--pack-destination', folder], root);
  const packed = readdirSync(folder).find((name) => name.endsWith('.tgz')) ?? '';
  run('tar', ['-xzf', packed, '--strip-components=1'], folder);
  rmSync(join(folder, packed));
  return folder;
}

/** The SQLite module for a Node: the installed one where it fits. */
function addonFor(node: string): string {
  const installed = join(root, 'node_modules/better-sqlite3');
  const bin = join(node, 'bin');
  const abi = run(join(bin, 'node'), ['-p', 'process.versions.modules'], root).stdout.trim();
  const file = 'build/Release/better_sqlite3.node';
  if (abi === process.versions.modules) return join(installed, file);
  const own = join(cache, `better-sqlite3-${abi}`);
  const opens = (): boolean => {
    const open = `process.dlopen({ exports: {} }, ${JSON.stringify(join(own, file))})`;
    return spawnSync(join(bin, 'node'), ['-e', open]).status === 0;
  };
  if (opens()) return join(own, file);
  console.log(`Compiling better-sqlite3 for modules version ${abi} …`);
  rmSync(own, { recursive: true, force: true });
  cpSync(installed, own, { recursive: true, filter: (from) => from !== join(installed, 'build') });
  const npm = realpathSync(run('sh', ['-c', 'command -v npm'], root).stdout.trim());
  const gyp = join(dirname(npm), '../node_modules/node-gyp/bin/node-gyp.js');
  // Under npm, npm's own setting of the folder of headers stands in the environment, and goes before an argument.
  run('node', [gyp, 'rebuild', '--release'], own, { PATH: withFirst(bin), npm_config_nodedir: node });
  if (!opens()) throw new Error(`The SQLite module compiled for modules version ${abi} does not open.`);
  return join(own, file);
}

/** Installed by npm under this Node; the SQLite module that fits is laid into it, not put in its place on the way. */
const packed = ['--config', 'tests/long.config.ts', '--project', 'long', 'tests/system/packed'];

function passes(node: string, args: readonly string[], env: NodeJS.ProcessEnv): boolean {
  const vitest = [join(root, 'node_modules/vitest/vitest.mjs'), 'run', '--maxWorkers=1', ...args];
  const done = spawnSync(join(node, 'bin/node'), vitest, {
    cwd: root,
    env: { ...process.env, PATH: withFirst(join(node, 'bin')), SQLITE_ADDON: addonFor(node), ...env },
    stdio: 'inherit',
  });
  return done.status === 0;
}

const rows: string[] = [];
let failed = false;
for (const major of majors) {
  const node = fetchNode(major);
  const version = run(join(node, 'bin/node'), ['--version'], root).stdout.trim();
  const withAddon = { NODE_OPTIONS: `--require ${join(import.meta.dirname, 'other-sqlite.cjs')}` };
  const runs = [
    { what: paths.join(', '), passed: passes(node, paths, withAddon) },
    ...(named.length > 0 ? [] : [{ what: 'what is packed', passed: passes(node, packed, {}) }]),
  ];
  for (const { what, passed } of runs)
    rows.push(`${version.padEnd(10)} ${passed ? 'passed' : 'FAILED'}: ${what}`);
  failed ||= runs.some(({ passed }) => !passed);
}
console.log(`\n${rows.join('\n')}`);
process.exitCode = failed ? 1 : 0;
