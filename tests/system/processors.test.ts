/** Everything that is compiled is there for 64-bit ARM as it is for x86, as far as `package-lock.json` tells. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import * as z from 'zod';

const root = join(import.meta.dirname, '../..');
const lockSchema = z.object({
  packages: z.record(
    z.string(),
    z.object({
      version: z.string().optional(),
      dev: z.boolean().default(false),
      cpu: z.array(z.string()).optional(),
      hasInstallScript: z.boolean().default(false),
    }),
  ),
});
const { packages } = lockSchema.parse(JSON.parse(readFileSync(join(root, 'package-lock.json'), 'utf8')));
const named = Object.entries(packages).map(([path, one]) => ({
  ...one,
  name: path.split('node_modules/').at(-1) ?? '',
}));

test('what an owner installs has one compiled part, which installs itself', () => {
  const native = named.filter(({ dev, cpu, hasInstallScript }) => !dev && (cpu ?? hasInstallScript));
  expect(native.map(({ name }) => name)).toEqual(['better-sqlite3']);
  // It fetches what was compiled for the processor, or compiles itself: it brings its source and SQLite's.
  const folder = join(root, 'node_modules/better-sqlite3');
  const { scripts } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8')) as {
    scripts: { install: string };
  };
  expect(scripts.install).toBe('prebuild-install || node-gyp rebuild --release');
  expect(readFileSync(join(folder, 'deps/sqlite3/sqlite3.c'), 'utf8').length).toBeGreaterThan(1_000_000);
  expect(readFileSync(join(folder, 'binding.gyp'), 'utf8')).not.toMatch(/x64|x86_64|sse|avx/i);
});

test('what a developer installs for Linux on x86 is there for Linux on ARM in the same version', () => {
  const onIntel = named.filter(({ name, cpu }) => cpu?.includes('x64') && /linux/.test(name));
  expect(onIntel.length).toBeGreaterThan(3);
  const missing = onIntel.filter(({ name, version }) => {
    const onArm = name.replace('x64', 'arm64');
    return !named.some((one) => one.name === onArm && one.version === version && one.cpu?.includes('arm64'));
  });
  expect(missing.map(({ name }) => name)).toEqual([]);
});
