/** The version, as package.json has it; found from the sources and from the built files alike. */
import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import * as z from 'zod';

function packageFile(): string {
  for (let folder = import.meta.dirname; ; folder = dirname(folder)) {
    const file = join(folder, 'package.json');
    if (existsSync(file)) return file;
    if (folder === dirname(folder)) throw new Error('package.json is missing above the program');
  }
}

export const { version } = z
  .object({ version: z.string() })
  .parse(JSON.parse(readFileSync(packageFile(), 'utf8')));
