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
    const knownVariables = [
      ...settingKeys.map(({ variable }) => variable),
      'WELCOMB_SETTINGS',
      'WELCOMB_OPEN_DATA',
      'WELCOMB_',
    ];
    expect(variables.filter((name) => !knownVariables.includes(name))).toEqual([]);
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
