/** Numbers worth remembering over a restart: instants (a job's last success, the last tick of the rules) and revisions. */
import type { Context } from './context.ts';

export interface Marks {
  get(name: string): number | undefined;
  /** All whose names begin so. */
  all(prefix: string): ReadonlyMap<string, number>;
  set(name: string, atMs: number): void;
  /** All of them in one transaction. */
  setAll(values: ReadonlyMap<string, number>): void;
}

export function marks(context: Context): Marks {
  const one = context.db.prepare<[string], number>('SELECT at_ms FROM mark WHERE name = ?').pluck();
  const some = context.db.prepare<[string, string], { name: string; at_ms: number }>(
    'SELECT name, at_ms FROM mark WHERE substr(name, 1, length(?)) = ? ORDER BY name',
  );
  const put = context.db.prepare<[string, number]>('INSERT OR REPLACE INTO mark (name, at_ms) VALUES (?, ?)');
  return {
    get: (name) => one.get(name),
    all: (prefix) => new Map(some.all(prefix, prefix).map(({ name, at_ms }) => [name, at_ms])),
    set: (name, atMs) => {
      context.write(() => put.run(name, atMs));
    },
    setAll: (values) => {
      context.write(() => {
        for (const [name, value] of values) put.run(name, value);
      });
    },
  };
}
