/** `welcomb check`: whether the database is whole, and how large things are. */
import { statSync } from 'node:fs';
import { backupsThere } from '../farm/backups-there.ts';
import { check, type Verified } from '../store/backup/check-database.ts';
import { isLocked } from '../store/file/data-folder.ts';
import { openStore, StoreRefused, type Store } from '../store/store.ts';
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
  type CommandContext,
} from './command-line.ts';
import { databaseIn } from './stored.ts';

const help = `Looks at every page and row of the database, or at a backup and its digest, and says how large things are. The server may run meanwhile.

  welcomb check [FILE] [--data DIR]

  FILE              a backup to look at instead of the database
${dataHelp}
${exitCodesHelp}`;

export const checkCommand: Command = {
  name: 'check',
  about: 'look at every page of the database, and say how large things are',
  help,
  run(args, context) {
    const { values, positionals } = parsed('check', args, dataOptions);
    if (positionals.length > 1) throw new CommandRefused('Name one file to check, or none for the database.');
    const folder = dataFolder(values, context.env);
    const file = positionals[0] ?? databaseIn(folder);
    if (!isThere(file)) throw new CommandRefused(`There is no file ${file} to check.`);
    if (statSync(file).isDirectory())
      throw new CommandRefused(
        `${file} is a folder: name a backup in it, or check its database with --data.`,
      );
    let verified: Verified;
    try {
      verified = check(file);
    } catch (error) {
      if (!(error instanceof StoreRefused)) throw error;
      context.say(error.message);
      context.say('Restore the newest good backup: "welcomb restore --list" says which there are.');
      return Promise.resolve(exitCode.wrong);
    }
    context.say(
      `${file} is whole: every page, index and reference was looked at, ` +
        (verified === 'digest'
          ? 'and its digest (SHA-256) is that of what it holds.'
          : 'and every row was read.'),
    );
    const store = openStore({ file, readonly: true, nowMs: context.nowMs });
    try {
      sizes(store, context.say);
      if (positionals[0] === undefined) backupsAndLock(store, folder, context);
    } finally {
      store.close();
    }
    return Promise.resolve(exitCode.done);
  },
};

function sizes(store: Store, say: CommandContext['say']): void {
  const { fileBytes, logBytes, freeBytes, readings, hotReadings, bytesPerYear } = store.diagnostics();
  const hives = store.places.listHives();
  say(`Schema ${String(store.migrated.to)}.`);
  const free =
    freeBytes === null
      ? 'how much is free on that disk is not known'
      : `${megabytes(freeBytes)} are free on that disk`;
  say(`${megabytes(fileBytes)}, and ${megabytes(logBytes)} in its log; ${free}.`);
  say(
    `${String(readings)} readings of ${String(store.channels.list().length)} channels; the newest ${String(hotReadings)} are not packed into days yet.`,
  );
  say(
    `${String(store.places.listSites().length)} sites, ${String(hives.filter(({ role }) => role === 'nuc').length)} nucs, ${String(store.people.list().length)} people.`,
  );
  if (bytesPerYear !== null) say(`It grows by about ${megabytes(bytesPerYear)} a year.`);
}

function backupsAndLock(store: Store, folder: string, { say }: CommandContext): void {
  const { folder: where, files, problem } = backupsThere(store);
  const [newest, ...older] = files;
  say(
    problem ??
      (newest === undefined
        ? `There is no backup in ${String(where)}.`
        : `${String(older.length + 1)} backups, the newest ${newest} (${megabytes(statSync(newest).size)}).`),
  );
  say(isLocked(folder) ? 'A server runs on this folder.' : 'No server runs on this folder.');
}
