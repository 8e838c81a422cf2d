/** `welcomb backup`: one checked copy now, whether or not the server runs. */
import { backupFolder, backupsKept } from '../farm/settings.ts';
import {
  CommandRefused,
  dataFolder,
  dataHelp,
  dataOptions,
  exitCode,
  exitCodesHelp,
  megabytes,
  parsed,
  type Command,
} from './command-line.ts';
import { withStore } from './stored.ts';

const help = `Makes a backup now and checks it. The server may run meanwhile.

  welcomb backup [--to FOLDER] [--keep N] [--data DIR]

  --to FOLDER       where to (default: the folder set on the page, or "backups" in the data folder)
  --keep N          how many of the newest backups stay in that folder (default: as set on the page, or 14)
${dataHelp}
${exitCodesHelp}`;

export const backupCommand: Command = {
  name: 'backup',
  about: 'make a checked backup now',
  help,
  async run(args, { env, nowMs, say }) {
    const { values, positionals } = parsed('backup', args, {
      ...dataOptions,
      to: { type: 'string' },
      keep: { type: 'string' },
    });
    if (positionals[0] !== undefined)
      throw new CommandRefused(`"${positionals[0]}" is not an option of backup; name the folder with --to.`);
    const keep = keepOf(values.keep);
    // Opened for writing: what the log of a server that was cut off still holds is then part of the copy.
    return withStore(dataFolder(values, env), { write: true, nowMs }, async (store) => {
      const folder = values.to ?? backupFolder(store);
      if (folder === null)
        throw new CommandRefused('The stored folder for backups can’t be read: name one with --to.');
      const made = await store.backup(folder, { keep: keep ?? backupsKept(store.settings), inOneGo: true });
      say(`${made.file} (${megabytes(made.bytes)}), checked.`);
      return exitCode.done;
    });
  },
};

function keepOf(text: string | undefined): number | undefined {
  if (text === undefined) return undefined;
  const keep = Number(text);
  if (Number.isInteger(keep) && keep >= 1) return keep;
  throw new CommandRefused(`--keep is "${text}": expected a whole number from 1 on.`);
}
