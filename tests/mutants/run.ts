/**
 * `npm run mutants -- PART …`: changes the code of a part a little, one place at a time, and counts the changes that
 * its tests notice. `figures` changes single figures of bee biology instead. Without a part it lists them.
 */
import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { runFigures } from './figures.ts';
import { parts, type Part } from './parts.ts';

const here = (file: string): string => fileURLToPath(new URL(file, import.meta.url));

function runPart({ files, judges }: Part): number {
  const stryker = fileURLToPath(import.meta.resolve('@stryker-mutator/core/package.json')).replace(
    'package.json',
    'bin/stryker.js',
  );
  const args = ['-n', '10', process.execPath, stryker, 'run', here('stryker.config.json')];
  const { status } = spawnSync('nice', [...args, '--mutate', files.join(',')], {
    stdio: 'inherit',
    env: { ...process.env, MUTANTS_JUDGES: judges.join(',') },
  });
  return status ?? 1;
}

const wanted = process.argv.slice(2);
const unknown = wanted.filter((name) => name !== 'figures' && !parts.some((part) => part.name === name));
if (wanted.length === 0 || unknown.length > 0) {
  if (unknown.length > 0) console.error(`There is no part “${unknown.join('”, “')}”.`);
  console.error(`Parts: ${['figures', ...parts.map(({ name }) => name)].join(', ')}`);
  process.exit(2);
}
const failed = wanted.filter((name) => {
  const part = parts.find((one) => one.name === name);
  return (part ? runPart(part) : runFigures()) !== 0;
});
if (failed.length > 0) process.exit(1);
