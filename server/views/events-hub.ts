/**
 * Live updates to open pages. Memory is bounded: readings of one channel that come in quick succession are told once
 * with the newest value, and a client that does not read is dropped; its page asks again when it comes back.
 */
import type { LiveEvent } from '../contract/alerts.ts';

/** The half of a response that the hub writes to. */
export interface EventSink {
  write(text: string): unknown;
  end(): unknown;
  destroy(): unknown;
  /** Bytes accepted and not yet sent. */
  readonly writableLength: number;
}

/** Several clients of one person, session or address count together. */
export interface Share {
  readonly key: string;
  readonly most: number;
}

export interface Listener {
  /** Asked at each heartbeat. */
  readonly stillAllowed: () => boolean;
  readonly shares: readonly Share[];
}

export interface EventsHubOptions {
  readonly maxClients?: number;
  /** A client with more than this unsent is dropped. */
  readonly maxUnsentBytes?: number;
  readonly heartbeatMs?: number;
  /** How long readings are gathered. */
  readonly gatherMs?: number;
}

export interface EventsHub {
  publish(event: LiveEvent): void;
  /** False when there are too many clients already, overall or in one of its shares. */
  join(sink: EventSink, hello: LiveEvent, visitor: Listener): boolean;
  leave(sink: EventSink): void;
  readonly clients: number;
  /** Ends every stream; the hub takes no more clients. */
  close(): void;
}

/** No `event:` line: the type stands in the data, and one `onmessage` hears them all. */
const asText = (event: LiveEvent): string => `data: ${JSON.stringify(event)}\n\n`;

export function createEventsHub(options: EventsHubOptions = {}): EventsHub {
  const { maxClients = 100, maxUnsentBytes = 256 * 1024, heartbeatMs = 20_000, gatherMs = 200 } = options;
  const clients = new Map<EventSink, Listener>();
  const gathered = new Map<number, LiveEvent>();
  let gathering: NodeJS.Timeout | undefined;
  let closed = false;

  const send = (sink: EventSink, text: string): void => {
    if (sink.writableLength + text.length > maxUnsentBytes) {
      clients.delete(sink);
      sink.destroy();
    } else sink.write(text);
  };
  const sendAll = (text: string): void => {
    for (const sink of [...clients.keys()]) send(sink, text);
  };
  const flush = (): void => {
    gathering = undefined;
    const text = [...gathered.values()].map(asText).join('');
    gathered.clear();
    if (text !== '') sendAll(text);
  };
  const hasRoom = ({ key, most }: Share): boolean => {
    let taken = 0;
    for (const { shares } of clients.values()) if (shares.some((share) => share.key === key)) taken += 1;
    return taken < most;
  };
  const heartbeat = setInterval(() => {
    for (const [sink, { stillAllowed }] of [...clients]) {
      if (stillAllowed()) send(sink, ': still here\n\n');
      else {
        clients.delete(sink);
        sink.end();
      }
    }
  }, heartbeatMs);
  heartbeat.unref();

  return {
    publish(event) {
      if (closed || clients.size === 0) return;
      if (event.type !== 'reading') {
        sendAll(asText(event));
        return;
      }
      const before = gathered.get(event.channelId);
      if (before?.type === 'reading' && Date.parse(before.time) > Date.parse(event.time)) return;
      gathered.set(event.channelId, event);
      gathering ??= setTimeout(flush, gatherMs).unref();
    },
    join(sink, hello, listener) {
      if (closed || clients.size >= maxClients || !listener.shares.every(hasRoom)) return false;
      clients.set(sink, listener);
      sink.write(`retry: 3000\n${asText(hello)}`);
      return true;
    },
    leave(sink) {
      clients.delete(sink);
    },
    get clients() {
      return clients.size;
    },
    close() {
      closed = true;
      clearInterval(heartbeat);
      clearTimeout(gathering);
      for (const sink of clients.keys()) sink.end();
      clients.clear();
    },
  };
}
