/** The outbox behind `notify`: notifications with their recipients and reasons, until they are sent or given up. */
import type { Delivery, DeliveryStore } from '../notify/delivery.ts';
import type { Context } from './context.ts';

export interface Deliveries extends DeliveryStore {
  /** Drops what no longer waits and was made before this instant; returns how many. */
  prune(beforeMs: number): number;
}

type Body = readonly { readonly key: string; readonly body: string }[];
/** Throws where the row can't be read. */
export function toDelivery({ body }: Body[number]): Delivery {
  const delivery = JSON.parse(body) as Delivery;
  if (!Array.isArray(delivery.items)) throw new RangeError('a message without its items');
  return delivery;
}

export function deliveries(context: Context): Deliveries {
  const { db, unreadable } = context;
  const read = (rows: Body): Delivery[] =>
    rows.flatMap((row) => unreadable.listed('message', row.key, () => toDelivery(row)));
  const put = db.prepare(
    `INSERT INTO delivery (key, recipient_id, kind, state, created_at, body) VALUES (?, ?, ?, ?, ?, ?)
     ON CONFLICT (key) DO UPDATE SET state = excluded.state, body = excluded.body`,
  );
  const forget = db.prepare('DELETE FROM delivery_episode WHERE delivery_key = ?');
  const about = db.prepare('INSERT OR IGNORE INTO delivery_episode (episode_id, delivery_key) VALUES (?, ?)');
  const one = db.prepare<[string], Body[number]>('SELECT key, body FROM delivery WHERE key = ?');
  // In the order in which they were kept: by their times, what was made before a clock was set back would come last.
  const waiting = db.prepare<[], Body[number]>(
    "SELECT key, body FROM delivery WHERE state = 'waiting' ORDER BY rowid",
  );
  const ofEpisode = db.prepare<[string], Body[number]>(
    `SELECT key, body FROM delivery JOIN delivery_episode ON delivery_key = key
     WHERE episode_id = ? ORDER BY delivery.rowid`,
  );
  const lastDigest = db.prepare<[string], Body[number]>(
    `SELECT key, body FROM delivery
     WHERE rowid = (SELECT max(rowid) FROM delivery WHERE recipient_id = ? AND kind = 'digest')`,
  );
  const recent = db.prepare<[number], Body[number]>(
    'SELECT key, body FROM delivery ORDER BY created_at DESC, rowid DESC LIMIT ?',
  );
  const prune = db.prepare<[number]>("DELETE FROM delivery WHERE state <> 'waiting' AND created_at < ?");

  return {
    save(delivery) {
      const { key, recipientId, kind, state, createdAtMs, items } = delivery;
      context.write(() => {
        put.run(key, recipientId, kind, state, createdAtMs, JSON.stringify(delivery));
        forget.run(key);
        for (const { episodeId } of items) about.run(episodeId, key);
      });
    },
    get: (key) => read(one.all(key))[0],
    waiting: () => read(waiting.all()),
    ofEpisode: (episodeId) => read(ofEpisode.all(episodeId)),
    lastDigest: (recipientId) => read(lastDigest.all(recipientId))[0] ?? null,
    recent: (limit) => read(recent.all(limit)),
    prune: (beforeMs) => context.write(() => prune.run(beforeMs).changes),
  };
}
