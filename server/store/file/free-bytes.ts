import { statfsSync } from 'node:fs';

/** What this user may still write into a folder; null where its disk can't say, as some network folders. */
export function freeBytesOf(folder: string): number | null {
  const { blocks, bavail, bsize } = statfsSync(folder);
  return blocks === 0 ? null : bavail * bsize;
}
