/** Sites: where nucs stand. The zone gives calendar days, the position dusk and dawn. */
import type { Context } from '../context.ts';
import { StoreConflict } from '../errors.ts';

export interface Site {
  readonly id: string;
  readonly name: string;
  /** IANA zone. */
  readonly timeZone: string;
  readonly latDeg: number;
  readonly lonDeg: number;
  readonly note?: string;
}

interface SiteRow {
  readonly id: string;
  readonly name: string;
  readonly time_zone: string;
  readonly lat_deg: number;
  readonly lon_deg: number;
  readonly note: string | null;
}

export interface Sites {
  listSites(): Site[];
  site(id: string): Site | undefined;
  /** Adds or replaces. */
  putSite(site: Site): Site;
  /** Throws `StoreConflict` while hives or sensors belong to it. */
  removeSite(id: string): boolean;
}

const toSite = (row: SiteRow): Site => ({
  id: row.id,
  name: row.name,
  timeZone: row.time_zone,
  latDeg: row.lat_deg,
  lonDeg: row.lon_deg,
  ...(row.note === null ? {} : { note: row.note }),
});

export function sites(context: Context): Sites {
  const { db } = context;
  const all = db.prepare<[], SiteRow>('SELECT * FROM site ORDER BY name, id');
  const one = db.prepare<[string], SiteRow>('SELECT * FROM site WHERE id = ?');
  const put = db.prepare<[string, string, string, number, number, string | null]>(
    `INSERT INTO site (id, name, time_zone, lat_deg, lon_deg, note) VALUES (?, ?, ?, ?, ?, ?)
     ON CONFLICT (id) DO UPDATE SET name = excluded.name, time_zone = excluded.time_zone,
       lat_deg = excluded.lat_deg, lon_deg = excluded.lon_deg, note = excluded.note`,
  );
  const inUse = db
    .prepare<[string, string], number>(
      'SELECT (SELECT count(*) FROM hive WHERE site_id = ?) + (SELECT count(*) FROM assignment WHERE site_id = ?)',
    )
    .pluck();
  const remove = db.prepare<[string]>('DELETE FROM site WHERE id = ?');

  return {
    listSites: () => all.all().map(toSite),
    site(id) {
      const row = one.get(id);
      return row && toSite(row);
    },
    putSite(site) {
      context.write(() =>
        put.run(site.id, site.name, site.timeZone, site.latDeg, site.lonDeg, site.note ?? null),
      );
      return site;
    },
    removeSite: (id) =>
      context.write(() => {
        if ((inUse.get(id, id) ?? 0) > 0) {
          throw new StoreConflict(`Hives or sensors belong to the site ${id}: move them first.`);
        }
        return remove.run(id).changes > 0;
      }),
  };
}
