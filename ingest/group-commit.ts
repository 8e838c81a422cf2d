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
  /** Commit at once when so much waits: readings, and what else is to be stored. */
  readonly maxBatch: number;
  /** Commit at the latest so long after the first of them came; sooner when nothing more is coming in. */
  readonly maxDelayMs: number;
  /** More than this, counted likewise, is not held: the caller has to refuse, so that the sender keeps it. */
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
  readonly size: number;
  readonly owner: object | undefined;
  readonly settled: (stored: boolean) => void;
}

export interface GroupCommit {
  /** Calls `settled(true)` after the commit that holds `part`; false at once when too much waits already. */
  add(part: IngestBatch | IncomingReading, settled: (stored: boolean) => void, owner?: object): void;
  /** The connection `owner` broke: what it brought and is not committed is settled as not stored, and comes again. */
  forget(owner: object): void;
  pending(): number;
  /** A last attempt; what can't be stored is settled as not stored. */
  stop(): void;
}

/** A quarantined message is kept with its first 4 KB: as much room as some tens of readings. */
const quarantinedSize = 20;

/** In readings: one message may bring thousands, and memory is bounded by what they take. */
function sizeOf(part: Entry['part']): number {
  if (!('readings' in part)) return 1;
  const { readings, quarantined, lastKnown, announcements = [] } = part;
  const size =
    readings.length + quarantined.length * quarantinedSize + lastKnown.length + announcements.length;
  return Math.max(1, size);
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

export const groupCommit = (port: IngestPort, limits: GroupLimits, events: GroupEvents): GroupCommit =>
  new GroupedCommits(port, limits, events);

class GroupedCommits implements GroupCommit {
  readonly #port: IngestPort;
  readonly #limits: GroupLimits;
  readonly #events: GroupEvents;
  #waiting: Entry[] = [];
  /** Of all that waits. */
  #size = 0;
  #timer: NodeJS.Timeout | undefined;
  #turn: NodeJS.Immediate | undefined;
  #firstCameMs = 0;
  #pauseMs = 0;
  #stopped = false;
  #flushing = false;

  constructor(port: IngestPort, limits: GroupLimits, events: GroupEvents) {
    this.#port = port;
    this.#limits = limits;
    this.#events = events;
  }

  add(part: Entry['part'], settled: Entry['settled'], owner?: object): void {
    const { maxPending, maxBatch } = this.#limits;
    if (this.#stopped || this.#size >= maxPending) {
      settled(false);
      return;
    }
    const size = sizeOf(part);
    this.#size += size;
    this.#waiting.push({ part, size, settled, owner });
    // The next attempt is due already, unless all that waited for it went with a broken connection.
    if (this.#pauseMs > 0) this.#retry();
    else if (this.#size >= maxBatch) this.#flush();
    else if (!this.#turn) {
      this.#firstCameMs = performance.now();
      this.#gatherOn();
    }
  }

  forget(owner: object): void {
    const dropped = this.#waiting.filter((entry) => entry.owner === owner);
    this.#waiting = this.#waiting.filter((entry) => entry.owner !== owner);
    for (const { size, settled } of dropped) {
      this.#size -= size;
      settled(false);
    }
  }

  pending(): number {
    return this.#waiting.length;
  }

  stop(): void {
    this.#stopped = true;
    this.#flush();
    for (const { settled } of this.#waiting.splice(0)) settled(false);
  }

  /**
   * Checks again after each turn of the event loop. A turn that brought nothing ends the gathering: to wait longer would
   * hold up a sender that waits for its acknowledgement. While the disk syncs, the next group gathers in the sockets.
   */
  #gatherOn(): void {
    const before = this.#waiting.length;
    this.#turn = setImmediate(() => {
      this.#turn = undefined;
      const late = performance.now() - this.#firstCameMs >= this.#limits.maxDelayMs;
      if (this.#waiting.length === before || late) this.#flush();
      else this.#gatherOn();
    });
  }

  #flush(): void {
    clearTimeout(this.#timer);
    this.#timer = undefined;
    if (this.#turn) clearImmediate(this.#turn);
    this.#turn = undefined;
    // A listener may add the next message at once: that one waits for its turn.
    if (this.#flushing) return;
    this.#flushing = true;
    try {
      while (this.#waiting.length > 0 && this.#commitNext());
    } finally {
      this.#flushing = false;
    }
  }

  /** False while nothing can be stored. */
  #commitNext(): boolean {
    const entries = this.#waiting.slice(0, this.#limits.maxBatch);
    const batch = gather(entries);
    const result = this.#commit(batch);
    if (!result) {
      if (!this.#stopped) this.#retry();
      return false;
    }
    this.#waiting = this.#waiting.slice(entries.length);
    for (const { size } of entries) this.#size -= size;
    if (this.#pauseMs > 0) this.#events.onAvailable();
    this.#pauseMs = 0;
    for (const { settled } of entries) settled(true);
    this.#events.onCommitted(result, batch, entries.length);
    return true;
  }

  #commit(batch: IngestBatch): CommitResult | undefined {
    const { retryMs, maxRetryMs } = this.#limits;
    try {
      return this.#port.commit(batch);
    } catch (error) {
      if (this.#pauseMs === 0)
        this.#events.onUnavailable(error instanceof Error ? error : new Error(String(error)));
      this.#pauseMs = Math.min(maxRetryMs, Math.max(retryMs, this.#pauseMs * 2));
      return undefined;
    }
  }

  #retry(): void {
    this.#timer ??= setTimeout(() => {
      this.#flush();
    }, this.#pauseMs);
  }
}
