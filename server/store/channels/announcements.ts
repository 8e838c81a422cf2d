/** What sensors have announced about themselves: kept, because they say it once and a broker in memory forgets it. */
import type { Context } from '../context.ts';
import type { Announcement } from '../port.ts';

/** A farm has some hundreds; more than this is a flood of made-up ones. */
export const mostAnnouncements = 10_000;
const mostCharacters = 4096;

export interface Announcements {
  list(): Announcement[];
  /** What sensors are called, by sensor. */
  names(): ReadonlyMap<string, string>;
  /** A new one beyond the bound, or one that is too long, is not kept: it is known until the next restart. */
  add(announcements: readonly Announcement[]): void;
}

function readJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

export function announcements(context: Context): Announcements {
  const { db } = context;
  const all = db.prepare<[], Announcement>('SELECT kind, key, value FROM announcement ORDER BY kind, key');
  const has = db
    .prepare<[string, string], number>('SELECT 1 FROM announcement WHERE kind = ? AND key = ?')
    .pluck();
  const count = db.prepare<[], number>('SELECT count(*) FROM announcement').pluck();
  const put = db.prepare<[string, string, string]>(
    `INSERT INTO announcement (kind, key, value) VALUES (?, ?, ?)
     ON CONFLICT (kind, key) DO UPDATE SET value = excluded.value`,
  );
  const remove = db.prepare<[string, string]>('DELETE FROM announcement WHERE kind = ? AND key = ?');

  function addOne({ kind, key, value }: Announcement): void {
    if (value === null) remove.run(kind, key);
    else if (key.length + value.length > mostCharacters) return;
    else if (has.get(kind, key) !== undefined || (count.get() ?? 0) < mostAnnouncements)
      put.run(kind, key, value);
  }

  return {
    list: () => all.all(),
    names: () =>
      new Map(
        all.all().flatMap(({ kind, key, value }) => {
          const name: unknown = kind === 'name' && value !== null ? readJson(value) : undefined;
          return typeof name === 'string' ? [[key, name] as const] : [];
        }),
      ),
    add(list) {
      if (list.length === 0) return;
      context.write(() => {
        list.forEach(addOne);
      });
    },
  };
}
