/** Every part that is compiled is there for small boards of 64-bit ARM too, as far as the lock and the packages tell. */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';

interface Locked {
  readonly version?: string;
  readonly dev?: boolean;
  readonly os?: readonly string[];
  readonly cpu?: readonly string[];
  readonly hasInstallScript?: boolean;
  readonly optionalDependencies?: Readonly<Record<string, string>>;
}
const root = join(import.meta.dirname, '../..');
const read = (file: string): unknown => JSON.parse(readFileSync(join(root, file), 'utf8'));
const { packages } = read('package-lock.json') as { packages: Readonly<Record<string, Locked>> };
const nameOf = (path: string): string => path.replace(/^.*node_modules\//, '');
const of = (from: Locked, os: string, cpu: string): string[] =>
  Object.keys(from.optionalDependencies ?? {}).filter((name) => {
    const locked = packages[`node_modules/${name}`];
    return locked?.os?.includes(os) === true && locked.cpu?.includes(cpu) === true;
  });

describe('64-bit ARM', () => {
  // A package that brings its compiled part as a package for each processor.
  const parents = Object.entries(packages).filter(
    ([path, locked]) => path !== '' && of(locked, 'linux', 'x64').length > 0,
  );

  it('there are such packages', () => {
    expect(parents.length).toBeGreaterThan(2);
  });

  it.each(parents.map(([path, locked]) => [nameOf(path), locked] as const))(
    '%s is compiled for it as it is for x64',
    (_name, locked) => {
      expect(of(locked, 'linux', 'arm64')).toHaveLength(of(locked, 'linux', 'x64').length);
    },
  );

  it('the program needs one compiled part alone: the SQLite module, which is fetched or compiled', () => {
    const compiled = Object.entries(packages)
      .filter(([, { dev, cpu, hasInstallScript }]) => dev !== true && (cpu || hasInstallScript))
      .map(([path]) => nameOf(path));
    expect(compiled).toEqual(['better-sqlite3']);
    const { scripts, dependencies } = read('node_modules/better-sqlite3/package.json') as {
      scripts: Readonly<Record<string, string>>;
      dependencies: Readonly<Record<string, string>>;
    };
    expect(scripts['install']).toBe('prebuild-install || node-gyp rebuild --release');
    expect(Object.keys(dependencies)).toContain('prebuild-install');
    // Its releases are built for linux arm64 of Node 20, 22, 24 and later: github.com/WiseLibs/better-sqlite3,
    // .github/workflows/build.yml, jobs "prebuild-linux-arm" and "prebuild-linux-arm-node-modern" (commit 01ffe0c).
    expect(Number(packages['node_modules/better-sqlite3']?.version?.split('.')[0])).toBeGreaterThanOrEqual(
      12,
    );
    // Where nothing can be fetched it is compiled from what the package brings.
    expect(existsSync(join(root, 'node_modules/better-sqlite3/deps/sqlite3/sqlite3.c'))).toBe(true);
  });
});
