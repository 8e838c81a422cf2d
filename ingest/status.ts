/** The state of ingest at any moment, and the log lines when it changes. */
import type { CommitResult, IngestBatch } from '../server/store/port.ts';
import type { IngestLogger } from './logger.ts';

export interface IngestStatus {
  readonly kind: 'embedded' | 'outside';
  readonly connected: boolean;
  /** Since when it has been connected, or not. */
  readonly sinceMs: number;
  /** One sentence. */
  readonly detail: string;
  readonly counters: Counters;
  /** Messages that wait for their commit. */
  readonly pending: number;
  readonly store: { readonly state: 'ok' | 'unavailable'; readonly sinceMs: number; readonly detail: string };
  readonly lastError?: string;
}

export interface Counters {
  readonly received: number;
  readonly acknowledged: number;
  /** Transactions in which messages were stored. */
  readonly commits: number;
  readonly stored: number;
  readonly duplicates: number;
  readonly conflicts: number;
  readonly quarantined: number;
  readonly ignored: number;
}

export interface StatusKeeper {
  received(): void;
  ignored(): void;
  committed(result: CommitResult, batch: IngestBatch, messages: number): void;
  quarantined(topic: string, bytes: number, reason: string): void;
  /** Our own code failed at a message: one log line with where. */
  mistake(topic: string, error: unknown): void;
  storeUnavailable(error: Error): void;
  storeAvailable(): void;
  connected(detail: string): void;
  disconnected(reason: string): void;
  warn(sentence: string): void;
  now(pending: number): IngestStatus;
}

const fine = 'Readings are being stored.';
/** The same complaint is written once in so long. */
const quietMs = 60_000;
/** And no more different ones in that time: what is quarantined can be looked at on the page, a full disk helps nobody. */
const mostComplaints = 100;

/** True when this complaint is worth a line: a device that errs every second must not fill the log, whatever it says. */
function complaints(clock: () => number): (complaint: string) => boolean {
  const last = new Map<string, number>();
  return (complaint) => {
    const now = clock();
    for (const [earlier, atMs] of last) {
      if (Math.abs(now - atMs) < quietMs) break;
      last.delete(earlier);
    }
    if (last.has(complaint) || last.size >= mostComplaints) return false;
    last.set(complaint, now);
    return true;
  };
}

export function makeStatus(
  kind: 'embedded' | 'outside',
  clock: () => number,
  logger: IngestLogger,
): StatusKeeper {
  const counters = {
    received: 0,
    acknowledged: 0,
    commits: 0,
    stored: 0,
    duplicates: 0,
    conflicts: 0,
    quarantined: 0,
    ignored: 0,
  };
  let store: IngestStatus['store'] = { state: 'ok', sinceMs: clock(), detail: fine };
  let connection = { connected: false, sinceMs: clock(), detail: 'Not connected yet.' };
  let lastError: string | undefined;
  const isNew = complaints(clock);

  return {
    received() {
      counters.received += 1;
    },
    ignored() {
      counters.ignored += 1;
    },
    committed(result, batch, messages) {
      counters.acknowledged += messages;
      counters.commits += 1;
      counters.stored += result.stored.length;
      counters.duplicates += result.duplicates;
      counters.conflicts += result.conflicts;
      counters.quarantined += batch.quarantined.length;
    },
    quarantined(topic, bytes, reason) {
      const sentence = `A message was quarantined: ${reason}.`;
      if (isNew(`${topic} ${reason}`)) logger.warn({ topic, bytes }, sentence);
    },
    mistake(topic, error) {
      const where = error instanceof Error ? error.stack : String(error);
      if (isNew(String(error)))
        logger.error({ topic, where }, 'A message could not be read: please report this line.');
    },
    storeUnavailable(error) {
      lastError = error.message;
      const why = error.message.replace(/\.?$/, '.');
      const detail = `Nothing can be stored: ${why} Sensors get no acknowledgement and will send again.`;
      store = { state: 'unavailable', sinceMs: clock(), detail };
      logger.error({ error: error.message }, detail);
    },
    storeAvailable() {
      store = { state: 'ok', sinceMs: clock(), detail: fine };
      logger.info({}, 'Readings are being stored again.');
    },
    connected(detail) {
      connection = { connected: true, sinceMs: clock(), detail };
      logger.info({}, detail);
    },
    disconnected(reason) {
      // Since when it has been away, not since the last attempt.
      const sinceMs = connection.connected ? clock() : connection.sinceMs;
      connection = { connected: false, sinceMs, detail: reason };
      lastError = reason;
      if (isNew(reason)) logger.warn({}, reason);
    },
    warn(sentence) {
      lastError = sentence;
      if (isNew(sentence)) logger.warn({}, sentence);
    },
    now: (pending) => ({
      kind,
      ...connection,
      counters: { ...counters },
      pending,
      store,
      ...(lastError === undefined ? {} : { lastError }),
    }),
  };
}
