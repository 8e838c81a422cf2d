/** What a checked backup would bring with it: whom it lets in, and what it is set to call. Of any schema. */
import { connection } from '../file/connection.ts';
import { makeContext } from '../context.ts';
import { devices } from '../channels/devices.ts';
import { people, type Person } from '../people.ts';
import { sites } from '../places/sites.ts';
import { settings, type Settings } from '../settings.ts';

export interface BackupContents {
  readonly sites: string[];
  readonly nucs: number;
  readonly people: readonly Person[];
  /** Names of devices that may publish readings. */
  readonly devices: string[];
  readonly settings: Pick<Settings, 'get' | 'all'>;
  /** What a restore leaves out. */
  readonly sessions: number;
  readonly tokens: number;
}

/** Gives `use` the contents, open while it runs. Throws what SQLite throws for a file that was not checked. */
export function withContents<T>(file: string, use: (contents: BackupContents) => T): T {
  const db = connection(file, { readonly: true, fileMustExist: true });
  const count = (of: string): number =>
    db.prepare<[], number>(`SELECT count(*) FROM ${of}`).pluck().get() ?? 0;
  try {
    const context = makeContext(db, file, Date.now);
    return use({
      sites: sites(context)
        .listSites()
        .map(({ name }) => name),
      nucs: count("hive WHERE role = 'nuc' AND retired_at IS NULL"),
      people: people(context).list(),
      devices: devices(context)
        .list()
        .map(({ name }) => name),
      settings: settings(context),
      sessions: count('session'),
      tokens: count('token'),
    });
  } finally {
    db.close();
  }
}
