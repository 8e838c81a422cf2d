/** Hives: nucs and the parent colonies that they were split from. */
import type { Context } from '../context.ts';
import { StoreConflict } from '../errors.ts';

/** What the keeper knows about the box; free to grow. */
export interface BoxDetails {
  readonly kind?: string;
  /** Empty box with frames and floor. */
  readonly emptyKg?: number;
  readonly [more: string]: unknown;
}

export interface Hive {
  readonly id: string;
  readonly siteId: string;
  readonly role: 'nuc' | 'parent';
  readonly name: string;
  readonly parentHiveId?: string;
  readonly batch?: string;
  readonly box: BoxDetails;
  readonly note?: string;
  readonly createdAtMs: number;
  readonly retiredAtMs?: number;
}

interface HiveRow {
  readonly id: string;
  readonly site_id: string;
  readonly role: 'nuc' | 'parent';
  readonly name: string;
  readonly parent_hive_id: string | null;
  readonly batch: string | null;
  readonly box: string;
  readonly note: string | null;
  readonly created_at: number;
  readonly retired_at: number | null;
}

export interface Hives {
  /** By name; retired ones only where asked for. */
  listHives(options?: { readonly role?: Hive['role']; readonly retired?: boolean }): Hive[];
  hive(id: string): Hive | undefined;
  /** Adds or replaces. Throws `StoreConflict` for an unknown site or parent, or a hive that is its own parent. */
  putHive(hive: Hive): Hive;
}

/** Throws where the row can't be read. */
export const toHive = (row: HiveRow): Hive => ({
  id: row.id,
  siteId: row.site_id,
  role: row.role,
  name: row.name,
  box: JSON.parse(row.box) as BoxDetails,
  createdAtMs: row.created_at,
  ...(row.parent_hive_id === null ? {} : { parentHiveId: row.parent_hive_id }),
  ...(row.batch === null ? {} : { batch: row.batch }),
  ...(row.note === null ? {} : { note: row.note }),
  ...(row.retired_at === null ? {} : { retiredAtMs: row.retired_at }),
});

export function hives(context: Context): Hives {
  const { db, unreadable } = context;
  /** Without what is known of its box rather than not at all: everything about a nuc hangs on it. */
  const readHive = (row: HiveRow): Hive =>
    unreadable.read('hive', row.id, () => toHive(row)) ?? toHive({ ...row, box: '{}' });
  const all = db.prepare<[], HiveRow>('SELECT * FROM hive ORDER BY name COLLATE NOCASE, id');
  const one = db.prepare<[string], HiveRow>('SELECT * FROM hive WHERE id = ?');
  const siteKnown = db.prepare<[string]>('SELECT 1 FROM site WHERE id = ?');
  const put = db.prepare(
    `INSERT INTO hive (id, site_id, role, name, parent_hive_id, batch, box, note, created_at, retired_at)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
     ON CONFLICT (id) DO UPDATE SET site_id = excluded.site_id, role = excluded.role, name = excluded.name,
       parent_hive_id = excluded.parent_hive_id, batch = excluded.batch, box = excluded.box, note = excluded.note,
       created_at = excluded.created_at, retired_at = excluded.retired_at`,
  );

  function refuseUnknown(hive: Hive): void {
    if (!siteKnown.get(hive.siteId)) {
      throw new StoreConflict(`${hive.name} can't stand at ${hive.siteId}: there is no such site.`);
    }
    if (hive.parentHiveId === undefined) return;
    if (hive.parentHiveId === hive.id)
      throw new StoreConflict(`${hive.name} can't be its own parent colony.`);
    if (!one.get(hive.parentHiveId)) {
      throw new StoreConflict(`${hive.name} can't come from ${hive.parentHiveId}: there is no such hive.`);
    }
  }

  return {
    listHives: ({ role, retired = false } = {}) =>
      all
        .all()
        .filter((row) => (role === undefined || row.role === role) && (retired || row.retired_at === null))
        .map(readHive),
    hive(id) {
      const row = one.get(id);
      return row && readHive(row);
    },
    putHive(hive) {
      context.write(() => {
        refuseUnknown(hive);
        put.run(
          hive.id,
          hive.siteId,
          hive.role,
          hive.name,
          hive.parentHiveId ?? null,
          hive.batch ?? null,
          JSON.stringify(hive.box),
          hive.note ?? null,
          hive.createdAtMs,
          hive.retiredAtMs ?? null,
        );
      });
      return hive;
    },
  };
}
