/** A row that can't be read is set aside and told; everything else goes on, and the row stays where it is. */
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { describe, expect, test } from 'vitest';
import { openStore, type Store } from '../../server/store/store.ts';
import { fillWithEverything } from './support/full-store.ts';
import { commit, day, may1, minute, reading } from './support/made-up.ts';
import { temporaryFolder } from './support/temporary-store.ts';

function damaged(sql: string): { file: string; store: Store } {
  const file = join(temporaryFolder(), 'welcomb.db');
  const before = openStore({ file, nowMs: () => may1 + 2 * day });
  fillWithEverything(before);
  before.close();
  const db = new Database(file);
  db.exec(sql);
  db.close();
  return { file, store: openStore({ file, nowMs: () => may1 + 2 * day }) };
}

describe('set aside and told', () => {
  test.each<{ what: string; sql: string; look: (store: Store) => unknown; answer: unknown; told: string }>([
    {
      what: 'alert',
      sql: `UPDATE alert SET state = '{"si'`,
      look: (s) => s.alerts.list(),
      answer: [],
      told: 'alert brood-chilling n1',
    },
    {
      what: 'introduction',
      sql: `UPDATE introduction SET setup = 'x'`,
      look: (s) => s.introductions.list(),
      answer: [],
      told: 'introduction introduction-1',
    },
    {
      what: 'log entry',
      sql: `UPDATE log_entry SET entry = '{}'`,
      look: (s) => s.introductions.log('introduction-1'),
      answer: [],
      told: 'log entry entry-of-split',
    },
    {
      what: 'hive',
      sql: `UPDATE hive SET box = '['`,
      look: (s) => s.places.hive('n1')?.box,
      answer: {},
      told: 'hive n1',
    },
    {
      what: 'calibration',
      sql: `UPDATE calibration SET fact = '{}'`,
      look: (s) => s.channels.calibrationsOf(2),
      answer: [],
      told: 'calibration 1',
    },
    {
      what: 'person, who keeps the least of rights',
      sql: `UPDATE person SET role = 'keepes'`,
      look: (s) => s.people.list().map(({ role }) => role),
      answer: ['viewer'],
      told: 'person p1',
    },
  ])('$what', ({ sql, look, answer, told }) => {
    const { store } = damaged(sql);
    expect(look(store)).toEqual(answer);
    expect(store.unreadable.list().map(({ what, id }) => `${what} ${id}`)).toEqual([told]);
    store.close();
  });

  test('readings that came in: the others are read, and sealing leaves the row', () => {
    const { file, store } = damaged(
      `UPDATE reading_hot SET readings = x'ffffff' WHERE id = (SELECT max(id) FROM reading_hot)`,
    );
    const readings = store.channels.list().reduce((sum, channel) => sum + channel.readings, 0);
    expect(readings).toBe(798);
    expect(store.unreadable.list()).toMatchObject([{ what: 'readings' }]);
    while (store.readings.seal({ endedBeforeMs: may1 + 10 * day }).more);
    store.close();
    const db = new Database(file);
    expect(db.prepare("SELECT count(*) FROM reading_hot WHERE readings = x'ffffff'").pluck().all()).toEqual([
      1,
    ]);
    db.close();
  });

  test('a sealed day: other days are read, late readings of it are taken in, and the row stays', () => {
    const { file, store } = damaged(`UPDATE reading_day SET readings = x'ffffff' WHERE id = 65536 + 20574`);
    expect(store.readings.series(1, may1, may1 + day).atMs).toHaveLength(0);
    expect(store.readings.series(1, may1 + day, may1 + 2 * day).atMs.length).toBeGreaterThan(100);
    expect(store.unreadable.list()).toEqual([{ what: 'readings', id: 'of channel 1 on 2026-05-01' }]);
    commit(store, reading(may1 + minute, 21, { probe: 'cage' }));
    while (store.readings.seal({ endedBeforeMs: may1 + 10 * day }).more);
    expect(store.readings.series(1, may1, may1 + day).value).toEqual(Float64Array.of(21));
    store.close();
    const db = new Database(file);
    expect(db.prepare("SELECT count(*) FROM reading_day WHERE readings = x'ffffff'").pluck().all()).toEqual([
      1,
    ]);
    db.close();
  });
});
