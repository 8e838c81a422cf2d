/** Settings edited on the page: key → JSON, with what changed, when, by whom. */
import { canonicalJson, type Context } from './context.ts';

export interface SettingChange {
  readonly atMs: number;
  readonly by: string;
  readonly key: string;
  /** Undefined for a setting that was not there, or a secret. */
  readonly before: unknown;
  /** Undefined for a setting that was taken away, or a secret. */
  readonly after: unknown;
}

/** A value that is not JSON is given as its text, so that it can be shown and hides no other. */
export interface Settings {
  get(key: string): unknown;
  /** Every key with this beginning. */
  all(prefix?: string): Map<string, unknown>;
  /** The same value again is no change. A `secret` is stored, but its history tells only that it changed. */
  put(key: string, value: unknown, change: { readonly by: string; readonly secret?: boolean }): void;
  remove(key: string, change: { readonly by: string; readonly secret?: boolean }): void;
  /** Newest first. */
  changes(options?: { readonly prefix?: string; readonly limit?: number }): SettingChange[];
}

/** Years of a keeper who turns at limits every day; a program that writes settings can't fill the disk. */
const mostChanges = 5_000;

interface ChangeRow {
  readonly at_ms: number;
  readonly by: string;
  readonly key: string;
  readonly before: string | null;
  readonly after: string | null;
}

/** Throws where the row can't be read. */
export const parseSetting = ({ value }: { readonly value: string }): unknown => JSON.parse(value);

export function settings(context: Context): Settings {
  const { db } = context;
  const one = db.prepare<[string], string>('SELECT value FROM setting WHERE key = ?').pluck();
  const all = db.prepare<[], { key: string; value: string }>('SELECT key, value FROM setting ORDER BY key');
  const put = db.prepare<[string, string]>('INSERT OR REPLACE INTO setting (key, value) VALUES (?, ?)');
  const remove = db.prepare<[string]>('DELETE FROM setting WHERE key = ?');
  const note = db.prepare<[number, string, string, string | null, string | null]>(
    'INSERT INTO setting_change (at_ms, by, key, before, after) VALUES (?, ?, ?, ?, ?)',
  );
  const trim = db.prepare<[number]>('DELETE FROM setting_change WHERE id <= ?');
  const changes = db.prepare<[], ChangeRow>('SELECT * FROM setting_change ORDER BY id DESC');

  const parse = (text: string | null | undefined): unknown => {
    if (text === null || text === undefined) return undefined;
    try {
      return parseSetting({ value: text });
    } catch {
      return text;
    }
  };

  function change(key: string, after: string | undefined, by: string, secret: boolean): void {
    context.write(() => {
      const before = one.get(key);
      if (before === after) return;
      if (after === undefined) remove.run(key);
      else put.run(key, after);
      const shown = (text: string | undefined): string | null => (secret ? null : (text ?? null));
      const { lastInsertRowid } = note.run(context.nowMs(), by, key, shown(before), shown(after));
      trim.run(Number(lastInsertRowid) - mostChanges);
    });
  }

  return {
    get: (key) => parse(one.get(key)),
    all: (prefix = '') =>
      new Map(
        all
          .all()
          .filter(({ key }) => key.startsWith(prefix))
          .map(({ key, value }) => [key, parse(value)]),
      ),
    put: (key, value, { by, secret = false }) => {
      change(key, canonicalJson(value), by, secret);
    },
    remove: (key, { by, secret = false }) => {
      change(key, undefined, by, secret);
    },
    changes({ prefix = '', limit = 200 } = {}) {
      const found: SettingChange[] = [];
      for (const row of changes.iterate()) {
        if (!row.key.startsWith(prefix)) continue;
        found.push({
          atMs: row.at_ms,
          by: row.by,
          key: row.key,
          before: parse(row.before),
          after: parse(row.after),
        });
        if (found.length >= limit) break;
      }
      return found;
    },
  };
}
