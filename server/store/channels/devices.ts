/** Devices that may publish to the embedded broker; passwords come in hashed. */
import type { Context } from '../context.ts';
import { StoreConflict } from '../errors.ts';

export interface Device {
  readonly name: string;
  readonly passwordHash: string;
  readonly ownTopicsOnly: boolean;
  readonly createdAtMs: number;
  readonly lastSeenAtMs: number | null;
}

interface Row {
  readonly name: string;
  readonly password_hash: string;
  readonly own_topics_only: number;
  readonly created_at: number;
  readonly last_seen_at: number | null;
}

export interface Devices {
  list(): Device[];
  get(name: string): Device | undefined;
  /** Until the first one is made, anonymous devices may publish from loopback. */
  count(): number;
  /** Throws `StoreConflict` where the name is taken. */
  add(device: Omit<Device, 'lastSeenAtMs'>): void;
  /** Written once a minute at most: a device with a bad connection comes again and again. */
  seen(name: string, atMs: number): void;
  remove(name: string): boolean;
}

const toDevice = (row: Row): Device => ({
  name: row.name,
  passwordHash: row.password_hash,
  ownTopicsOnly: row.own_topics_only === 1,
  createdAtMs: row.created_at,
  lastSeenAtMs: row.last_seen_at,
});

export function devices(context: Context): Devices {
  const { db } = context;
  const all = db.prepare<[], Row>('SELECT * FROM device ORDER BY name');
  const one = db.prepare<[string], Row>('SELECT * FROM device WHERE name = ?');
  const count = db.prepare<[], number>('SELECT count(*) FROM device').pluck();
  const add = db.prepare<[string, string, number, number]>(
    'INSERT INTO device (name, password_hash, own_topics_only, created_at) VALUES (?, ?, ?, ?)',
  );
  const seen = db.prepare<[number, string, number]>(
    'UPDATE device SET last_seen_at = ? WHERE name = ? AND (last_seen_at IS NULL OR abs(last_seen_at - ?) >= 60000)',
  );
  const remove = db.prepare<[string]>('DELETE FROM device WHERE name = ?');
  return {
    list: () => all.all().map(toDevice),
    get(name) {
      const row = one.get(name);
      return row && toDevice(row);
    },
    count: () => count.get() ?? 0,
    add: ({ name, passwordHash, ownTopicsOnly, createdAtMs }) => {
      context.write(() => {
        if (one.get(name)) throw new StoreConflict(`There is a device named ${name} already.`);
        add.run(name, passwordHash, ownTopicsOnly ? 1 : 0, createdAtMs);
      });
    },
    seen: (name, atMs) => {
      context.write(() => seen.run(atMs, name, atMs));
    },
    remove: (name) => context.write(() => remove.run(name).changes > 0),
  };
}
