/** Numbers worth remembering over a restart: instants (a job's last success, the last tick of the rules) and revisions. */
import type { Context } from './context.ts';

export interface Marks {
  get(name: string): number | undefined;
  set(name: string, atMs: number): void;
  /** All of them in one transaction. */
  setAll(values: ReadonlyMap<string, number>): void;
}

export function marks(context: Context): Marks {
  const one = context.db.prepare<[string], number>('SELECT at_ms FROM mark WHERE name = ?').pluck();
  const put = context.db.prepare<[string, number]>('INSERT OR REPLACE INTO mark (name, at_ms) VALUES (?, ?)');
  return {
    get: (name) => one.get(name),
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
