/** A small disk of its own (tmpfs), where this process may mount one. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmdirSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { onTestFinished } from 'vitest';

/** Its folder; undefined where mounting is not allowed. */
export function smallDisk(kilobytes: number): string | undefined {
  const folder = mkdtempSync(join(tmpdir(), 'welcomb-disk-'));
  const size = `size=${String(kilobytes)}k`;
  const mounted = spawnSync('mount', ['-t', 'tmpfs', '-o', size, 'tmpfs', folder]).status === 0;
  onTestFinished(() => {
    if (mounted) spawnSync('umount', [folder]);
    rmdirSync(folder);
  });
  return mounted ? folder : undefined;
}

export function makeReadOnly(folder: string): void {
  spawnSync('mount', ['-o', 'remount,ro', folder]);
}

export const noMount = 'a small disk can’t be mounted here (needs root)';
