/** Nucs that were only planned, removed as if nobody had planned them. */
import type { Context } from '../context.ts';
import { StoreConflict } from '../errors.ts';

/**
 * All of them or none: returns how many were there. Throws `StoreConflict` where anything was logged in one, or stands
 * in or beside it.
 */
export function plannedRemover({
  db,
  write,
}: Pick<Context, 'db' | 'write'>): (nucIds: readonly string[]) => number {
  const nameOf = db.prepare<[string], string>("SELECT name FROM hive WHERE id = ? AND role = 'nuc'").pluck();
  const used: readonly (readonly [string, string])[] = [
    [
      'something is logged in it',
      `SELECT 1 FROM log_entry WHERE introduction_id IN (SELECT id FROM introduction WHERE nuc_id = ?)`,
    ],
    ['a visit to it is logged', 'SELECT 1 FROM hive_visit WHERE hive_id = ?'],
    ['a sensor stands or stood in it', 'SELECT 1 FROM assignment WHERE hive_id = ?'],
    ['other nucs were split from it', 'SELECT 1 FROM hive WHERE parent_hive_id = ?'],
  ];
  const checks = used.map(([why, sql]) => [why, db.prepare<[string]>(sql)] as const);
  const dropIntroductions = db.prepare<[string]>('DELETE FROM introduction WHERE nuc_id = ?');
  const dropHive = db.prepare<[string]>('DELETE FROM hive WHERE id = ?');
  return (nucIds) =>
    write(() => {
      const there = nucIds.filter((id) => nameOf.get(id) !== undefined);
      for (const id of there) {
        const why = checks.find(([, found]) => found.get(id) !== undefined)?.[0];
        if (why === undefined) continue;
        throw new StoreConflict(
          `${nameOf.get(id) ?? id} can’t be taken back: ${why}. Call its split off, or log how it ended.`,
        );
      }
      for (const id of there) {
        dropIntroductions.run(id);
        dropHive.run(id);
      }
      return there.length;
    });
}
