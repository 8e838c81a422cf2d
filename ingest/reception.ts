/** From an arrived message to a part of the next commit: decoded, judged, remembered, or put aside with the reason. */
import type { IngestBatch, QuarantinedMessage } from '../server/store/port.ts';
import type { Arrival, Receive } from './broker/link.ts';
import { decodeMessage, type Understood } from './decode/decode-message.ts';
import type { Mapping } from './decode/mapping-schema.ts';
import {
  emptyMemory,
  learn,
  restoreMemory,
  storeMemory,
  unlearn,
  type StoredMemory,
} from './decode/memory.ts';
import { shown } from './decode/message.ts';
import type { GroupCommit } from './group-commit.ts';
import { qualityGate } from './quality.ts';
import type { StatusKeeper } from './status.ts';

export interface ReceptionOptions {
  readonly clock: () => number;
  readonly mappings?: () => readonly Mapping[];
  readonly memory?: StoredMemory;
}

export interface Reception {
  readonly receive: Receive;
  setMappings(mappings: readonly Mapping[]): void;
  /** Topic filters that mappings and announced sensors need. */
  filters(): Set<string>;
  onNewFilters(listener: () => void): void;
  /** What we publish ourselves and a broker sends back is not a message of a sensor. */
  isOurs(topic: string): void;
  storedMemory(): StoredMemory;
}

const quarantinedBytes = 4096;
const maxOurTopics = 10_000;
const maxTopics = 20_000;

function putAside(arrival: Arrival, reason: string, receivedAtMs: number): QuarantinedMessage {
  const { topic, payload } = arrival;
  return {
    topic,
    payload: payload.slice(0, quarantinedBytes),
    payloadBytes: arrival.payloadBytes ?? payload.length,
    reason,
    receivedAtMs,
  };
}

/**
 * Moments of receipt that differ within a topic: a burst of plain numbers within one millisecond would otherwise be
 * readings of one instant, of which only the first is kept.
 */
function distinctInstants(): (topic: string, nowMs: number) => number {
  const last = new Map<string, number>();
  return (topic, nowMs) => {
    const before = last.get(topic);
    // A clock that was set back by more than a second starts anew.
    const instant = before !== undefined && nowMs <= before && before - nowMs < 1000 ? before + 1 : nowMs;
    if (last.size >= maxTopics && before === undefined) last.clear();
    last.set(topic, instant);
    return instant;
  };
}

const nothing: IngestBatch = { readings: [], quarantined: [], lastKnown: [] };

export function makeReception(
  options: ReceptionOptions,
  group: GroupCommit,
  status: StatusKeeper,
): Reception {
  const { clock } = options;
  const memory = options.memory ? restoreMemory(options.memory) : emptyMemory();
  const quality = qualityGate();
  const instantOf = distinctInstants();
  const ours = new Set<string>();
  let mappings = options.mappings?.() ?? [];
  let newFilters: () => void = () => undefined;

  function remember({ learned }: Understood): void {
    for (const each of learned) learn(memory, each);
    if (learned.some(({ kind }) => kind === 'announced')) newFilters();
  }

  function partOf(arrival: Arrival, decoded: Understood, receivedAtMs: number): IngestBatch {
    const { readings, lastKnown, quarantine } = decoded;
    return {
      readings: readings.map((reading) => quality.judge(reading)),
      lastKnown,
      quarantined: quarantine === undefined ? [] : [putAside(arrival, quarantine, receivedAtMs)],
    };
  }

  /** Undefined: understood, and there is nothing to store. */
  function understand(arrival: Arrival): { part: IngestBatch; undo: () => void } | undefined {
    const receivedAtMs = instantOf(arrival.topic, clock());
    if (arrival.refuse !== undefined) {
      return {
        part: { ...nothing, quarantined: [putAside(arrival, arrival.refuse, receivedAtMs)] },
        undo: () => undefined,
      };
    }
    const { topic, payload, retain } = arrival;
    const decoded = decodeMessage({ mappings, memory }, { topic, payload, retain, receivedAtMs });
    remember(decoded);
    const part = partOf(arrival, decoded, receivedAtMs);
    const isEmpty = part.readings.length + part.lastKnown.length + part.quarantined.length === 0;
    if (isEmpty && !decoded.repeat) return undefined;
    return {
      part,
      undo: () => {
        for (const each of decoded.learned) unlearn(memory, each);
      },
    };
  }

  return {
    receive(arrival, settled) {
      status.received();
      const understood = ours.has(arrival.topic) ? undefined : understand(arrival);
      if (!understood) {
        status.ignored();
        settled(true);
        return;
      }
      const { part, undo } = understood;
      for (const { topic, payloadBytes, reason } of part.quarantined) {
        status.quarantined(shown(topic), payloadBytes, reason);
      }
      group.add(
        part,
        (stored) => {
          if (!stored) undo();
          settled(stored);
        },
        arrival.owner,
      );
    },
    setMappings(next) {
      mappings = next;
    },
    filters() {
      return new Set([...mappings.map(({ topic }) => topic), ...memory.byStateTopic.keys()]);
    },
    onNewFilters(listener) {
      newFilters = listener;
    },
    isOurs(topic) {
      if (ours.size >= maxOurTopics) ours.clear();
      ours.add(topic);
    },
    storedMemory: () => storeMemory(memory),
  };
}
