/** Messages that nobody understood: one row a topic and reason with the newest payload, bounded a topic, in number and in bytes. */
import type { Context } from '../context.ts';
import type { QuarantinedMessage } from '../port.ts';

/** Many reasons name the value, so that a sensor with another bad one each time makes another row each time. */
export const quarantineMostATopic = 20;
export const quarantineMostRows = 500;
export const quarantineMostBytes = 1_000_000;
const mostPayloadBytes = 4096;

export interface QuarantineItem {
  readonly id: number;
  readonly topic: string;
  readonly payload: Uint8Array;
  readonly payloadBytes: number;
  readonly reason: string;
  readonly receivedAtMs: number;
  /** The broker replayed the newest. */
  readonly retained: boolean;
  /** How often this topic came with this reason. */
  readonly times: number;
}

interface Row {
  readonly id: number;
  readonly topic: string;
  readonly payload: Uint8Array;
  readonly payload_bytes: number;
  readonly reason: string;
  readonly received_at: number;
  readonly retained: number;
  readonly times: number;
}

export interface Quarantine {
  /** Newest first. */
  list(limit?: number): QuarantineItem[];
  get(id: number): QuarantineItem | undefined;
  add(messages: readonly QuarantinedMessage[]): void;
  /** One of another server; false where there is one of this topic and reason. */
  restore(item: Omit<QuarantineItem, 'id'>): boolean;
  remove(id: number): boolean;
  /** After a mapping was made for it. */
  removeTopic(topic: string): number;
}

const toItem = (row: Row): QuarantineItem => ({
  id: row.id,
  topic: row.topic,
  payload: row.payload,
  payloadBytes: row.payload_bytes,
  reason: row.reason,
  receivedAtMs: row.received_at,
  retained: row.retained !== 0,
  times: row.times,
});

export function quarantine(context: Context): Quarantine {
  const { db } = context;
  const all = db.prepare<[number], Row>(
    'SELECT * FROM quarantine ORDER BY received_at DESC, id DESC LIMIT ?',
  );
  const one = db.prepare<[number], Row>('SELECT * FROM quarantine WHERE id = ?');
  const upsert = db.prepare<[string, string, Uint8Array, number, number, number]>(
    `INSERT INTO quarantine (topic, reason, payload, payload_bytes, received_at, retained, times)
     VALUES (?, ?, ?, ?, ?, ?, 1)
     ON CONFLICT (topic, reason) DO UPDATE SET payload = excluded.payload, payload_bytes = excluded.payload_bytes,
       received_at = excluded.received_at, retained = excluded.retained, times = times + 1`,
  );
  const insert = db.prepare<[string, string, Uint8Array, number, number, number, number]>(
    `INSERT OR IGNORE INTO quarantine (topic, reason, payload, payload_bytes, received_at, retained, times)
     VALUES (?, ?, ?, ?, ?, ?, ?)`,
  );
  const totals = db.prepare<[], { n: number; bytes: number }>(
    'SELECT count(*) AS n, coalesce(sum(length(payload) + length(topic)), 0) AS bytes FROM quarantine',
  );
  const dropOldestOfTopics = db.prepare<[number]>(
    `DELETE FROM quarantine WHERE id IN (
       SELECT id FROM (
         SELECT id, row_number() OVER (PARTITION BY topic ORDER BY received_at DESC, id DESC) AS n FROM quarantine)
       WHERE n > ?)`,
  );
  // All at once: one message may have brought thousands.
  const dropOldest = db.prepare<[number, number]>(
    `DELETE FROM quarantine WHERE id IN (
       SELECT id FROM (
         SELECT id, row_number() OVER newest AS n, sum(length(payload) + length(topic)) OVER newest AS bytes
         FROM quarantine WINDOW newest AS (ORDER BY received_at DESC, id DESC))
       WHERE n > ? OR (bytes > ? AND n > 1))`,
  );
  const remove = db.prepare<[number]>('DELETE FROM quarantine WHERE id = ?');
  const removeTopic = db.prepare<[string]>('DELETE FROM quarantine WHERE topic = ?');

  const trim = (): void => {
    dropOldestOfTopics.run(quarantineMostATopic);
    const kept = totals.get();
    if (!kept || (kept.n <= quarantineMostRows && kept.bytes <= quarantineMostBytes)) return;
    dropOldest.run(quarantineMostRows, quarantineMostBytes);
  };

  return {
    list: (limit = quarantineMostRows) => all.all(limit).map(toItem),
    get(id) {
      const row = one.get(id);
      return row && toItem(row);
    },
    add(messages) {
      if (messages.length === 0) return;
      context.write(() => {
        for (const { topic, reason, payload, payloadBytes, receivedAtMs, retained } of messages) {
          const kept = payload.subarray(0, mostPayloadBytes);
          // Its instant may be what is wrong with it.
          const at = Number.isSafeInteger(receivedAtMs) ? receivedAtMs : context.nowMs();
          upsert.run(topic, reason, kept, payloadBytes, at, Number(retained ?? false));
        }
        trim();
      });
    },
    restore: ({ topic, reason, payload, payloadBytes, receivedAtMs, retained, times }) =>
      context.write(() => {
        const kept = payload.subarray(0, mostPayloadBytes);
        const flag = Number(retained);
        const { changes } = insert.run(topic, reason, kept, payloadBytes, receivedAtMs, flag, times);
        trim();
        return changes > 0;
      }),
    remove: (id) => context.write(() => remove.run(id).changes > 0),
    removeTopic: (topic) => context.write(() => removeTopic.run(topic).changes),
  };
}
