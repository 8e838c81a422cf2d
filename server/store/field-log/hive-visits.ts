/** Visits to hives outside any introduction: parent colonies, full colonies, nucs between two queens. */
import * as z from 'zod';
import { hiveVisitKinds, type HiveVisitKind } from '../../introduction/log/hive-visit.ts';
import type { Context } from '../context.ts';
import { StoreConflict } from '../errors.ts';

export interface HiveVisit {
  readonly id: string;
  readonly hiveId: string;
  readonly happenedAtMs: number;
  readonly writtenAtMs: number;
  readonly kind: HiveVisitKind;
  readonly by?: string;
  readonly note?: string;
  /** It did not happen after all. */
  readonly withdrawnAtMs?: number;
}

interface VisitRow {
  readonly id: string;
  readonly hive_id: string;
  readonly happened_at: number;
  readonly written_at: number;
  readonly visit: string;
  readonly withdrawn_at: number | null;
}

export interface HiveVisits {
  /** Newest first, withdrawn ones included. */
  ofHive(hiveId: string): HiveVisit[];
  all(): HiveVisit[];
  get(id: string): HiveVisit | undefined;
  /** The same visit twice is stored once. Throws `StoreConflict` for an unknown hive, or the id of another visit. */
  add(visit: HiveVisit): HiveVisit;
  withdraw(id: string, atMs: number): void;
}

const visitSchema = z.object({
  kind: z.enum(hiveVisitKinds),
  by: z.string().optional(),
  note: z.string().optional(),
});

/** Throws where the row can't be read. */
export function toHiveVisit(row: VisitRow): HiveVisit {
  const { kind, by, note } = visitSchema.parse(JSON.parse(row.visit));
  return {
    id: row.id,
    hiveId: row.hive_id,
    happenedAtMs: row.happened_at,
    writtenAtMs: row.written_at,
    kind,
    ...(by === undefined ? {} : { by }),
    ...(note === undefined ? {} : { note }),
    ...(row.withdrawn_at === null ? {} : { withdrawnAtMs: row.withdrawn_at }),
  };
}

const same = (a: HiveVisit, b: HiveVisit): boolean =>
  a.hiveId === b.hiveId && a.happenedAtMs === b.happenedAtMs && a.kind === b.kind && a.note === b.note;

export function hiveVisits(context: Context): HiveVisits {
  const { db, unreadable } = context;
  const byHive = db.prepare<[string], VisitRow>(
    'SELECT * FROM hive_visit WHERE hive_id = ? ORDER BY happened_at DESC, id',
  );
  const every = db.prepare<[], VisitRow>('SELECT * FROM hive_visit ORDER BY happened_at, id');
  const one = db.prepare<[string], VisitRow>('SELECT * FROM hive_visit WHERE id = ?');
  const hiveKnown = db.prepare<[string]>('SELECT 1 FROM hive WHERE id = ?');
  const put = db.prepare<[string, string, number, number, string, number | null]>(
    `INSERT INTO hive_visit (id, hive_id, happened_at, written_at, visit, withdrawn_at) VALUES (?, ?, ?, ?, ?, ?)`,
  );
  const markWithdrawn = db.prepare<[number, string]>('UPDATE hive_visit SET withdrawn_at = ? WHERE id = ?');
  const read = (rows: readonly VisitRow[]): HiveVisit[] =>
    rows.flatMap((row) => unreadable.listed('visit', row.id, () => toHiveVisit(row)));
  const get = (id: string): HiveVisit | undefined => {
    const row = one.get(id);
    return row && read([row])[0];
  };
  return {
    ofHive: (hiveId) => read(byHive.all(hiveId)),
    all: () => read(every.all()),
    get,
    add: (visit) =>
      context.write(() => {
        const there = get(visit.id);
        if (there) {
          if (same(there, visit)) return there;
          throw new StoreConflict(`Another visit has the id ${visit.id}: give this one its own.`);
        }
        const { id, hiveId, happenedAtMs, writtenAtMs, withdrawnAtMs, kind, by, note } = visit;
        if (!hiveKnown.get(hiveId)) throw new StoreConflict(`There is no hive ${hiveId}.`);
        const what = JSON.stringify({ kind, by, note });
        put.run(id, hiveId, happenedAtMs, writtenAtMs, what, withdrawnAtMs ?? null);
        return visit;
      }),
    withdraw: (id, atMs) => {
      context.write(() => markWithdrawn.run(atMs, id));
    },
  };
}
