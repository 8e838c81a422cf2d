/** Mappings from somebody's topics and payloads to readings; the mapping itself is ingest's, here it is JSON. */
import { canonicalJson, type Context } from '../context.ts';

export interface StoredMapping {
  readonly id: string;
  readonly name: string;
  readonly enabled: boolean;
  readonly mapping: Readonly<Record<string, unknown>>;
}

interface Row {
  readonly id: string;
  readonly name: string;
  readonly enabled: number;
  readonly mapping: string;
}

export interface Mappings {
  /** In the order in which they were first saved, which is the order in which they are tried. */
  list(): StoredMapping[];
  get(id: string): StoredMapping | undefined;
  put(mapping: StoredMapping): StoredMapping;
  /** All or none. */
  putAll(mappings: readonly StoredMapping[]): void;
  remove(id: string): boolean;
}

/** Throws where the row can't be read. */
export const toMapping = (row: Row): StoredMapping => ({
  id: row.id,
  name: row.name,
  enabled: row.enabled === 1,
  mapping: JSON.parse(row.mapping) as Record<string, unknown>,
});

export function mappings(context: Context): Mappings {
  const { db, unreadable } = context;
  const all = db.prepare<[], Row>('SELECT * FROM mapping ORDER BY rowid');
  const one = db.prepare<[string], Row>('SELECT * FROM mapping WHERE id = ?');
  const put = db.prepare<[string, string, number, string, number]>(
    `INSERT INTO mapping (id, name, enabled, mapping, changed_at) VALUES (?, ?, ?, ?, ?)
     ON CONFLICT (id) DO UPDATE SET
       name = excluded.name, enabled = excluded.enabled, mapping = excluded.mapping, changed_at = excluded.changed_at`,
  );
  const remove = db.prepare<[string]>('DELETE FROM mapping WHERE id = ?');
  function save(mapping: StoredMapping): StoredMapping {
    const { id, name, enabled } = mapping;
    const text = canonicalJson(mapping.mapping);
    context.write(() => put.run(id, name, enabled ? 1 : 0, text, context.nowMs()));
    return mapping;
  }

  return {
    list: () => all.all().flatMap((row) => unreadable.listed('mapping', row.id, () => toMapping(row))),
    get(id) {
      const row = one.get(id);
      return row && unreadable.read('mapping', id, () => toMapping(row));
    },
    put: save,
    putAll: (list) => {
      context.write(() => {
        list.forEach(save);
      });
    },
    remove: (id) => context.write(() => remove.run(id).changes > 0),
  };
}
