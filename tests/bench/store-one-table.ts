/** The baseline: one table clustered by (channel, time), values as scaled integers, the same durability. */
import Database from 'better-sqlite3';

export interface OneTable {
  commit(rows: readonly (readonly [channelId: number, atMs: number, micro: number])[]): void;
  season(channelId: number): { atMs: Float64Array; value: Float64Array };
  close(): void;
}

export function openOneTable(file: string): OneTable {
  const db = new Database(file);
  db.pragma('journal_mode = WAL');
  db.pragma('synchronous = FULL');
  db.exec(`CREATE TABLE reading (channel_id INTEGER, at_ms INTEGER, micro INTEGER NOT NULL,
             PRIMARY KEY (channel_id, at_ms)) WITHOUT ROWID`);
  const insert = db.prepare<[number, number, number]>('INSERT OR IGNORE INTO reading VALUES (?, ?, ?)');
  const all = db
    .prepare<[number], [number, number]>(
      'SELECT at_ms, micro FROM reading WHERE channel_id = ? ORDER BY at_ms',
    )
    .raw();
  const commit = db.transaction((rows: readonly (readonly [number, number, number])[]) => {
    for (const [channelId, atMs, micro] of rows) insert.run(channelId, atMs, micro);
  });
  return {
    commit,
    season(channelId) {
      const rows = all.all(channelId) as [number, number][];
      return {
        atMs: Float64Array.from(rows, ([atMs]) => atMs),
        value: Float64Array.from(rows, ([, micro]) => micro / 1e6),
      };
    },
    close: () => {
      db.close();
    },
  };
}
