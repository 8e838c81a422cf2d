/** The guides say what is so: links lead somewhere, flags exist, and what is shipped beside them fits. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { settingKeys } from '../../server/settings.ts';

const root = join(import.meta.dirname, '../..');
const manual = join(root, 'server/manual');
const pages = [
  join(root, 'README.md'),
  join(root, 'DEVELOPERS.md'),
  ...readdirSync(manual).map((name) => join(manual, name)),
].map((file) => [file.slice(root.length + 1), file, readFileSync(file, 'utf8')] as const);

describe.each(pages)('%s', (_name, file, text) => {
  test('links only to what is there', () => {
    const targets = [...text.matchAll(/\]\(([^)#\s]+)\)/g)]
      .map(([, target = '']) => target)
      .filter((target) => !/^https?:/.test(target));
    expect(targets.filter((target) => !existsSync(join(dirname(file), target)))).toEqual([]);
  });

  test('names only flags and variables that the server has', () => {
    const starts = [...text.matchAll(/(?:welcomb start|npm start --)([^\n`|]*)/g)].map(
      ([, rest = '']) => rest,
    );
    const flags = starts.flatMap((rest) => [...rest.matchAll(/(?<=\s)--[a-z-]+/g)].map(([flag]) => flag));
    const known = [...settingKeys.map(({ flag }) => flag), '--settings', '--help'];
    expect(flags.filter((flag) => !known.includes(flag))).toEqual([]);
    const variables = [...text.matchAll(/\bWELCOMB_[A-Z_]+\b/g)].map(([name]) => name);
    const knownVariables = [...settingKeys.map(({ variable }) => variable), 'WELCOMB_SETTINGS', 'WELCOMB_'];
    expect(variables.filter((name) => !knownVariables.includes(name))).toEqual([]);
  });
});

describe('the page for contributors', () => {
  const text = readFileSync(join(root, 'DEVELOPERS.md'), 'utf8');
  const code = [...text.matchAll(/`([^`\n]+)`/g)].map(([, words = '']) => words);
  const rooms = ['server', 'ingest', 'dashboard', 'simulator', 'tests'];
  const there = rooms.flatMap((room) => [
    `/${room}`,
    ...readdirSync(join(root, room), { recursive: true, encoding: 'utf8' }).map((name) => `/${room}/${name}`),
  ]);

  test('names only files and folders that are there', () => {
    const paths = code.filter((words) => /^[\w./-]+(\/|\.ts)$/.test(words) && !words.startsWith('.'));
    expect(paths.length).toBeGreaterThan(40);
    const missing = paths.filter((path) => {
      const wanted = `/${path.replace(/\/$/, '')}`;
      return !there.some((name) => name.endsWith(wanted));
    });
    expect(missing).toEqual([]);
  });

  test('names only commands that are there', () => {
    const { scripts } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as {
      scripts: Record<string, string>;
    };
    const named = code.flatMap((words) => /npm (?:run )?([\w:-]+)/.exec(words)?.[1] ?? []);
    const known = new Set([...Object.keys(scripts), 'ci', 'bench:NAME']);
    expect(named.filter((name) => !known.has(name))).toEqual([]);
  });

  test('has at most 1,500 words', () => {
    expect(text.split(/\s+/).length).toBeLessThanOrEqual(1500);
  });
});

test('the service unit is hardened, keeps its state in one place and does not restart what only its owner can mend', () => {
  const unit = readFileSync(join(root, 'server/packaging/welcomb.service'), 'utf8');
  for (const line of [
    'NoNewPrivileges=yes',
    'ProtectSystem=strict',
    'StateDirectory=welcomb',
    'Restart=on-failure',
    'RestartPreventExitStatus=2',
    'User=welcomb',
    'CapabilityBoundingSet=',
  ])
    expect(unit.split('\n')).toContain(line);
  // The folder that it may write is the one that the server is told to use.
  expect(unit).toContain('WELCOMB_DATA=/var/lib/welcomb');
});

test('the container runs as nobody special, keeps its data in a volume and says how it is', () => {
  const file = readFileSync(join(root, 'server/packaging/Containerfile'), 'utf8');
  const lastStage = file.slice(file.lastIndexOf('\nFROM '));
  for (const line of [/^USER node$/m, /^VOLUME \/data$/m, /^HEALTHCHECK /m, /WELCOMB_DATA=\/data/])
    expect(lastStage).toMatch(line);
  expect(lastStage.indexOf('USER node')).toBeLessThan(lastStage.indexOf('CMD ["welcomb", "start"]'));
});

const lines = (file: string): string[] => readFileSync(join(root, file), 'utf8').split('\n');

test('the container is built on a Node that gets security fixes, in both stages', () => {
  const images = lines('server/packaging/Containerfile').flatMap(
    (line) => /^FROM (\S+)/.exec(line)?.[1] ?? [],
  );
  // Node 24: maintained until April 2028, from memory; Node 20 ended in April 2026, from memory.
  expect(images).toEqual(['docker.io/library/node:24-bookworm', 'docker.io/library/node:24-bookworm-slim']);
});

test('the container writes to its data folder alone, and the guide runs it so', () => {
  const containerfile = lines('server/packaging/Containerfile').join('\n');
  const lastStage = containerfile.slice(containerfile.lastIndexOf('\nFROM '));
  expect([...lastStage.matchAll(/^VOLUME (.*)$/gm)].map(([, volumes]) => volumes)).toEqual(['/data']);
  // Everything copied in belongs to root, and the program is not root.
  expect(lastStage).not.toContain('--chown');
  expect(lastStage).toMatch(/SQLITE_TMPDIR=\/data\b/);
  const guide = lines('server/manual/small-board.md').join('\n');
  const [, run = ''] = /^podman run (.*?welcomb)$/ms.exec(guide.slice(guide.indexOf('podman run '))) ?? [];
  const options = run.replaceAll('\\\n', ' ').split(/\s+/);
  for (const option of [
    '--read-only',
    '--read-only-tmpfs=false',
    '--cap-drop=all',
    '--security-opt=no-new-privileges',
    '--pids-limit=256',
    '--memory=1g',
  ])
    expect(options).toContain(option);
  expect(
    options.filter((option) => /^--(privileged|cap-add|tmpfs|mount|device|userns|user)/.test(option)),
  ).toEqual([]);
  expect(options.filter((_option, i) => options[i - 1] === '-v')).toEqual([
    'welcomb-data:/data:nosuid,nodev,noexec',
  ]);
  // The page listens to this machine until somebody decides otherwise.
  expect(options).toContain('127.0.0.1:8480:8480');
});

test('the service unit may write to its data folder alone', () => {
  const unit = lines('server/packaging/welcomb.service');
  for (const line of [
    'UMask=0077',
    'StateDirectoryMode=0700',
    'Environment=SQLITE_TMPDIR=/var/lib/welcomb',
    'ProtectHome=yes',
    'PrivateTmp=yes',
    'PrivateDevices=yes',
    'DevicePolicy=closed',
    'RestrictSUIDSGID=yes',
    'AmbientCapabilities=',
    'LimitCORE=0',
    'TasksMax=256',
  ])
    expect(unit).toContain(line);
  const opened =
    /^(ReadWritePaths|BindPaths|CacheDirectory|LogsDirectory|RuntimeDirectory|ConfigurationDirectory)=/;
  expect(unit.filter((line) => opened.test(line))).toEqual([]);
});
