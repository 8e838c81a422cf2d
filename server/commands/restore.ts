/** `welcomb restore`: a backup in the place of the database, which is kept. */
import { existsSync, rmSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { summaryLines, summaryOf } from '../farm/backup-summary.ts';
import { backupsIn } from '../farm/backups-there.ts';
import { databaseName, lockFolder } from '../store/file/data-folder.ts';
import { restore } from '../store/backup/restore.ts';
import { openStore, StoreRefused } from '../store/store.ts';
import {
  CommandRefused,
  dataFolder,
  dataHelp,
  dataOptions,
  exitCode,
  exitCodesHelp,
  isThere,
  megabytes,
  parsed,
  type Command,
} from './command-line.ts';

const help = `Puts a backup in the place of the database. The server must be stopped.

  welcomb restore FILE [--data DIR]
  welcomb restore newest [--from FOLDER] [--data DIR]
  welcomb restore --list [--from FOLDER] [--data DIR]

The backup is checked first: its digest, every page, and that its tables are those of this program. One that is damaged, of
another program or of a newer version is refused, and everything stays as it is. Said before anything is changed: who can sign
in with it, and where notifications go. Sessions, API keys and calendar links of the backup end. The database that was there is kept beside the new one, and the answer says under which name.

  --from FOLDER     folder of the backups (default: "backups" in the data folder)
  --list            say which backups there are
${dataHelp}
${exitCodesHelp}`;

export const restoreCommand: Command = {
  name: 'restore',
  about: 'put a backup in the place of the database',
  help,
  run(args, { env, say }) {
    const { values, positionals } = parsed('restore', args, {
      ...dataOptions,
      from: { type: 'string' },
      list: { type: 'boolean', default: false },
    });
    const folder = dataFolder(values, env);
    const from = values.from ?? join(folder, 'backups');
    if (values.list) {
      const files = filesIn(from);
      for (const file of files) say(`${file}  ${megabytes(statSync(file).size)}`);
      if (files.length === 0) say(`There is no backup in ${from}; --from names another folder.`);
      return Promise.resolve(exitCode.done);
    }
    const file = chosen(positionals, from);
    const isNew = !existsSync(folder);
    const lock = lockFolder(folder);
    try {
      const { keptAs } = restore(file, join(folder, databaseName), (verified) => {
        for (const line of summaryLines(summaryOf(file, verified))) say(line);
      });
      say(`${file} is now the database in ${folder}.`);
      say(
        keptAs === null
          ? 'There was none before.'
          : `The one before is kept as ${keptAs}; delete it when all is well.`,
      );
      say(summary(join(folder, databaseName)));
    } catch (error) {
      if (error instanceof StoreRefused) throw new CommandRefused(`${error.message} Nothing was changed.`);
      throw error;
    } finally {
      lock.release();
      // Refused: of what was made, nothing stays.
      if (isNew && !existsSync(join(folder, databaseName))) rmSync(folder, { recursive: true });
    }
    return Promise.resolve(exitCode.done);
  },
};

function filesIn(from: string): readonly string[] {
  if (!isThere(from)) return [];
  const { files, problem } = backupsIn(from);
  if (problem !== undefined) throw new CommandRefused(problem);
  return files;
}

function chosen([name, ...more]: readonly string[], from: string): string {
  if (name === undefined || more.length > 0) {
    throw new CommandRefused(
      'Name one backup to restore, or "newest"; "welcomb restore --list" says which there are.',
    );
  }
  if (name !== 'newest') {
    if (!isThere(name)) throw new CommandRefused(`There is no backup ${name}.`);
    return name;
  }
  const [newest] = filesIn(from);
  if (newest === undefined)
    throw new CommandRefused(`There is no backup in ${from}: name its folder with --from.`);
  return newest;
}

function summary(file: string): string {
  const store = openStore({ file, readonly: true });
  try {
    const nucs = store.places.listHives().filter(({ role }) => role === 'nuc').length;
    return `It holds ${String(store.diagnostics().readings)} readings and ${String(nucs)} nucs.`;
  } finally {
    store.close();
  }
}
