/** The outbox: what is to be told to whom, until it is told or given up. */
import type { Context } from './context.ts';

export interface Delivery {
  /** Also the idempotency key that the receiver gets. */
  readonly id: string;
  /** Which way of telling. */
  readonly tellingId: string;
  readonly alertId: string | null;
  readonly urgency: string;
  readonly body: unknown;
  readonly state: 'waiting' | 'sent' | 'given-up';
  readonly createdAtMs: number;
  readonly dueAtMs: number;
  readonly attempts: number;
  readonly lastError: string | null;
  readonly doneAtMs: number | null;
}

export type NewDelivery = Pick<Delivery, 'id' | 'tellingId' | 'alertId' | 'urgency' | 'body' | 'dueAtMs'>;

interface Row {
  readonly id: string;
  readonly telling_id: string;
  readonly alert_id: string | null;
  readonly urgency: string;
  readonly body: string;
  readonly state: Delivery['state'];
  readonly created_at: number;
  readonly due_at: number;
  readonly attempts: number;
  readonly last_error: string | null;
  readonly done_at: number | null;
}

export interface Deliveries {
  /** The same id twice is told once. */
  enqueue(deliveries: readonly NewDelivery[]): void;
  /** Waiting ones whose time has come, in the order in which they became due. */
  due(nowMs: number, limit?: number): Delivery[];
  sent(id: string, atMs: number): void;
  /** Try again at `retryAtMs`, or give up where there is none. */
  failed(id: string, atMs: number, error: string, retryAtMs?: number): void;
  /** Newest first. */
  list(options?: {
    readonly state?: Delivery['state'];
    readonly alertId?: string;
    readonly limit?: number;
  }): Delivery[];
  prune(beforeMs: number): number;
}

const toDelivery = (row: Row): Delivery => ({
  id: row.id,
  tellingId: row.telling_id,
  alertId: row.alert_id,
  urgency: row.urgency,
  body: JSON.parse(row.body) as unknown,
  state: row.state,
  createdAtMs: row.created_at,
  dueAtMs: row.due_at,
  attempts: row.attempts,
  lastError: row.last_error,
  doneAtMs: row.done_at,
});

export function deliveries(context: Context): Deliveries {
  const { db } = context;
  const add = db.prepare<[string, string, string | null, string, string, number, number]>(
    `INSERT INTO delivery (id, telling_id, alert_id, urgency, body, state, created_at, due_at, attempts)
     VALUES (?, ?, ?, ?, ?, 'waiting', ?, ?, 0) ON CONFLICT (id) DO NOTHING`,
  );
  const due = db.prepare<[number, number], Row>(
    "SELECT * FROM delivery WHERE state = 'waiting' AND due_at <= ? ORDER BY due_at, created_at, id LIMIT ?",
  );
  const sent = db.prepare<[number, string]>(
    "UPDATE delivery SET state = 'sent', done_at = ?, attempts = attempts + 1, last_error = NULL WHERE id = ?",
  );
  const failed = db.prepare<[string, number, string]>(
    'UPDATE delivery SET attempts = attempts + 1, last_error = ?, due_at = ? WHERE id = ?',
  );
  const givenUp = db.prepare<[string, number, string]>(
    "UPDATE delivery SET state = 'given-up', attempts = attempts + 1, last_error = ?, done_at = ? WHERE id = ?",
  );
  const some = db.prepare<[Record<string, string | number | null>], Row>(
    `SELECT * FROM delivery WHERE (@state IS NULL OR state = @state) AND (@alert IS NULL OR alert_id = @alert)
     ORDER BY created_at DESC, id LIMIT @limit`,
  );
  const prune = db.prepare<[number]>("DELETE FROM delivery WHERE state <> 'waiting' AND done_at < ?");

  return {
    enqueue: (list) => {
      if (list.length === 0) return;
      context.write(() => {
        for (const one of list) {
          const body = JSON.stringify(one.body);
          add.run(one.id, one.tellingId, one.alertId, one.urgency, body, context.nowMs(), one.dueAtMs);
        }
      });
    },
    due: (nowMs, limit = 100) => due.all(nowMs, limit).map(toDelivery),
    sent: (id, atMs) => {
      context.write(() => sent.run(atMs, id));
    },
    failed: (id, atMs, error, retryAtMs) => {
      context.write(() =>
        retryAtMs === undefined ? givenUp.run(error, atMs, id) : failed.run(error, retryAtMs, id),
      );
    },
    list: ({ state, alertId, limit } = {}) =>
      some.all({ state: state ?? null, alert: alertId ?? null, limit: limit ?? 200 }).map(toDelivery),
    prune: (beforeMs) => context.write(() => prune.run(beforeMs).changes),
  };
}
