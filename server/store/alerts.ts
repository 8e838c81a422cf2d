/** Alerts as the rules' life cycle leaves them, their transitions, and every rule's last evaluation. */
import type { Context } from './context.ts';

export interface AlertSubject {
  readonly kind: 'nuc' | 'site' | 'device' | 'channel' | 'server';
  readonly id: string;
}

/** `State` and `Message` belong to the rules; here they are JSON. */
export interface StoredAlert<State = unknown, Message = unknown> {
  readonly id: string;
  readonly ruleId: string;
  readonly subject: AlertSubject;
  readonly phase: string;
  readonly urgency: string;
  /** False once it is over: cleared or closed. */
  readonly open: boolean;
  readonly changedAtMs: number;
  readonly state: State;
  readonly message: Message;
}

export interface AlertTransition {
  readonly atMs: number;
  readonly from: string | null;
  readonly to: string;
  readonly text: string;
}

interface AlertRow {
  readonly id: string;
  readonly rule_id: string;
  readonly subject_kind: AlertSubject['kind'];
  readonly subject_id: string;
  readonly phase: string;
  readonly urgency: string;
  readonly is_open: number;
  readonly changed_at: number;
  readonly state: string;
  readonly message: string;
}

export interface AlertQuery {
  readonly open?: boolean;
  readonly phase?: string;
  readonly subject?: AlertSubject;
  /** Those of this nuc, and those about anything but a nuc: a sensor's may be its own. */
  readonly nucId?: string;
  readonly sinceMs?: number;
  readonly limit?: number;
}

export interface Alerts {
  /** Adds or replaces, with the transition that led there, in one transaction. */
  save(alert: StoredAlert, transition?: AlertTransition): void;
  /** Several at once: one tick, one transaction. */
  saveAll(changes: readonly { readonly alert: StoredAlert; readonly transition?: AlertTransition }[]): void;
  get(id: string): StoredAlert | undefined;
  /** Newest change first. */
  list(query?: AlertQuery): StoredAlert[];
  history(id: string): AlertTransition[];
  /** Drops alerts that were over before this instant. */
  prune(beforeMs: number): number;
}

/** Throws where the row can't be read. */
export const toAlert = (row: AlertRow): StoredAlert => ({
  id: row.id,
  ruleId: row.rule_id,
  subject: { kind: row.subject_kind, id: row.subject_id },
  phase: row.phase,
  urgency: row.urgency,
  open: row.is_open === 1,
  changedAtMs: row.changed_at,
  state: JSON.parse(row.state) as unknown,
  message: JSON.parse(row.message) as unknown,
});

const toRow = (alert: StoredAlert): AlertRow => ({
  id: alert.id,
  rule_id: alert.ruleId,
  subject_kind: alert.subject.kind,
  subject_id: alert.subject.id,
  phase: alert.phase,
  urgency: alert.urgency,
  is_open: alert.open ? 1 : 0,
  changed_at: alert.changedAtMs,
  state: JSON.stringify(alert.state),
  message: JSON.stringify(alert.message),
});

const statements = (db: Context['db']) => ({
  put: db.prepare<[AlertRow]>(
    `INSERT INTO alert (id, rule_id, subject_kind, subject_id, phase, urgency, is_open, changed_at, state, message)
     VALUES (@id, @rule_id, @subject_kind, @subject_id, @phase, @urgency, @is_open, @changed_at, @state, @message)
     ON CONFLICT (id) DO UPDATE SET phase = excluded.phase, urgency = excluded.urgency, is_open = excluded.is_open,
       changed_at = excluded.changed_at, state = excluded.state, message = excluded.message`,
  ),
  addTransition: db.prepare(
    'INSERT INTO alert_transition (alert_id, at_ms, from_phase, to_phase, text) VALUES (?, ?, ?, ?, ?)',
  ),
  one: db.prepare<[string], AlertRow>('SELECT * FROM alert WHERE id = ?'),
  some: db.prepare<[Record<string, string | number | null>], AlertRow>(
    `SELECT * FROM alert WHERE (@open IS NULL OR is_open = @open) AND (@phase IS NULL OR phase = @phase)
       AND (@kind IS NULL OR (subject_kind = @kind AND subject_id = @id))
       AND (@nuc IS NULL OR subject_kind <> 'nuc' OR subject_id = @nuc) AND changed_at >= @since
     ORDER BY changed_at DESC, id LIMIT @limit`,
  ),
  transitions: db.prepare<
    [string],
    { at_ms: number; from_phase: string | null; to_phase: string; text: string }
  >('SELECT * FROM alert_transition WHERE alert_id = ? ORDER BY at_ms, id'),
  prune: db.prepare<[number]>('DELETE FROM alert WHERE is_open = 0 AND changed_at < ?'),
});

export function alerts(context: Context): Alerts {
  const { db, unreadable } = context;
  const { put, addTransition, one, some, transitions, prune } = statements(db);

  function write(alert: StoredAlert, transition: AlertTransition | undefined): void {
    put.run(toRow(alert));
    if (transition)
      addTransition.run(alert.id, transition.atMs, transition.from, transition.to, transition.text);
  }

  return {
    save: (alert, transition) => {
      context.write(() => {
        write(alert, transition);
      });
    },
    saveAll: (changes) => {
      if (changes.length === 0) return;
      context.write(() => {
        for (const { alert, transition } of changes) write(alert, transition);
      });
    },
    get(id) {
      const row = one.get(id);
      return row && unreadable.read('alert', id, () => toAlert(row));
    },
    list: ({ open, phase, subject, nucId, sinceMs, limit } = {}) =>
      some
        .all({
          open: open === undefined ? null : open ? 1 : 0,
          phase: phase ?? null,
          kind: subject?.kind ?? null,
          id: subject?.id ?? null,
          nuc: nucId ?? null,
          since: sinceMs ?? 0,
          limit: limit ?? -1,
        })
        .flatMap((row) => unreadable.listed('alert', row.id, () => toAlert(row))),
    history: (id) =>
      transitions
        .all(id)
        .map((row) => ({ atMs: row.at_ms, from: row.from_phase, to: row.to_phase, text: row.text })),
    prune: (beforeMs) => context.write(() => prune.run(beforeMs).changes),
  };
}
