/**
 * Gathers decoded messages and commits them together: one transaction by count or by time, then every message of it
 * is acknowledged. While nothing can be stored it keeps what it holds, acknowledges nothing and tries again by itself.
 */
import type {
  Announcement,
  CommitResult,
  IncomingReading,
  IngestBatch,
  IngestPort,
  LastKnown,
  QuarantinedMessage,
} from '../server/store/port.ts';

export interface GroupLimits {
  /** Commit at once when so many messages wait. */
  readonly maxBatch: number;
  /** Commit at the latest so long after the first of them came; sooner when nothing more is coming in. */
  readonly maxDelayMs: number;
  /** More than this is not held: the caller has to refuse, so that the sender keeps it. */
  readonly maxPending: number;
  /** First and longest pause between attempts while nothing can be stored. */
  readonly retryMs: number;
  readonly maxRetryMs: number;
}

export const defaultGroupLimits: GroupLimits = {
  maxBatch: 2000,
  maxDelayMs: 5,
  maxPending: 50_000,
  retryMs: 250,
  maxRetryMs: 5000,
};

export interface GroupEvents {
  onCommitted(result: CommitResult, batch: IngestBatch, messages: number): void;
  /** Once for each change. */
  onUnavailable(error: Error): void;
  onAvailable(): void;
}

interface Entry {
  /** One reading is what most messages bring: it waits without anything around it. */
  readonly part: IngestBatch | IncomingReading;
  readonly owner: object | undefined;
  readonly settled: (stored: boolean) => void;
}

export interface GroupCommit {
  /** Calls `settled(true)` after the commit that holds `part`; false at once when too much waits already. */
  add(part: IngestBatch | IncomingReading, settled: (stored: boolean) => void, owner?: object): void;
  /** What `owner` brought and is not committed yet comes again on its next connection. */
  forget(owner: object): void;
  pending(): number;
  /** A last attempt; what can't be stored is settled as not stored. */
  stop(): void;
}

function gather(entries: readonly Entry[]): IngestBatch {
  const readings: IncomingReading[] = [];
  const quarantined: QuarantinedMessage[] = [];
  const lastKnown: LastKnown[] = [];
  const announcements: Announcement[] = [];
  for (const { part } of entries) {
    if (!('readings' in part)) {
      readings.push(part);
      continue;
    }
    for (const reading of part.readings) readings.push(reading);
    for (const message of part.quarantined) quarantined.push(message);
    for (const known of part.lastKnown) lastKnown.push(known);
    if (part.announcements) announcements.push(...part.announcements);
  }
  return { readings, quarantined, lastKnown, announcements };
}

export function groupCommit(port: IngestPort, limits: GroupLimits, events: GroupEvents): GroupCommit {
  let waiting: Entry[] = [];
  let timer: NodeJS.Timeout | undefined;
  let turn: NodeJS.Immediate | undefined;
  let firstCameMs = 0;
  let pauseMs = 0;
  let stopped = false;
  let flushing = false;

  function retryIn(delayMs: number): void {
    timer ??= setTimeout(flush, delayMs);
  }

  /**
   * Looks again after each turn of the event loop. A turn that brought nothing ends the gathering: to wait longer would
   * hold up a sender that waits for its acknowledgement. While the disk syncs, the next group gathers in the sockets.
   */
  function gatherOn(): void {
    const before = waiting.length;
    turn = setImmediate(() => {
      turn = undefined;
      if (waiting.length === before || performance.now() - firstCameMs >= limits.maxDelayMs) flush();
      else gatherOn();
    });
  }

  function commit(batch: IngestBatch): CommitResult | undefined {
    try {
      return port.commit(batch);
    } catch (error) {
      if (pauseMs === 0) events.onUnavailable(error instanceof Error ? error : new Error(String(error)));
      pauseMs = Math.min(limits.maxRetryMs, Math.max(limits.retryMs, pauseMs * 2));
      return undefined;
    }
  }

  function flush(): void {
    clearTimeout(timer);
    timer = undefined;
    if (turn) clearImmediate(turn);
    turn = undefined;
    // A listener may add the next message at once: that one waits for its turn.
    if (flushing) return;
    flushing = true;
    try {
      while (waiting.length > 0 && commitNext());
    } finally {
      flushing = false;
    }
  }

  /** False while nothing can be stored. */
  function commitNext(): boolean {
    const entries = waiting.slice(0, limits.maxBatch);
    const batch = gather(entries);
    const result = commit(batch);
    if (!result) {
      if (!stopped) retryIn(pauseMs);
      return false;
    }
    waiting = waiting.slice(entries.length);
    if (pauseMs > 0) events.onAvailable();
    pauseMs = 0;
    for (const { settled } of entries) settled(true);
    events.onCommitted(result, batch, entries.length);
    return true;
  }

  return {
    add(part, settled, owner) {
      if (stopped || waiting.length >= limits.maxPending) {
        settled(false);
        return;
      }
      waiting.push({ part, settled, owner });
      if (pauseMs > 0) return;
      if (waiting.length >= limits.maxBatch) flush();
      else if (!turn) {
        firstCameMs = performance.now();
        gatherOn();
      }
    },
    forget(owner) {
      waiting = waiting.filter((entry) => entry.owner !== owner);
    },
    pending: () => waiting.length,
    stop() {
      stopped = true;
      flush();
      for (const { settled } of waiting.splice(0)) settled(false);
    },
  };
}
