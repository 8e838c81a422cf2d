/** The way in: MQTT messages are decoded, committed in groups, and acknowledged only then. */
import type { CommitResult, IngestBatch, IngestPort, QuarantinedMessage } from '../server/store/port.ts';
import type { Device } from './broker/devices.ts';
import { startEmbedded, type ConnectionLimits, type EmbeddedBroker } from './broker/embedded.ts';
import type { Arrival, Receive } from './broker/link.ts';
import { decodeMessage } from './decode/decode-message.ts';
import { shown } from './decode/message.ts';
import { groupCommit, standardGroupLimits, type GroupLimits } from './group-commit.ts';

export interface IngestLogger {
  info(details: object, sentence: string): void;
  warn(details: object, sentence: string): void;
  error(details: object, sentence: string): void;
}

export type IngestLimits = GroupLimits & ConnectionLimits;

export const standardLimits: IngestLimits = {
  ...standardGroupLimits,
  maxConnections: 500,
  maxPacketBytes: 256 * 1024,
  messagesPerSecond: 1000,
  burst: 50_000,
};

export interface IngestOptions {
  readonly port: IngestPort;
  readonly broker: EmbeddedBroker;
  readonly clock: () => number;
  readonly logger: IngestLogger;
  readonly limits?: Partial<IngestLimits>;
  /** After each commit. */
  readonly onCommitted?: (result: CommitResult) => void;
}

export interface IngestStatus {
  readonly kind: 'embedded' | 'outside';
  readonly connected: boolean;
  /** Since when it has been connected, or not. */
  readonly sinceMs: number;
  /** One sentence. */
  readonly detail: string;
  readonly counters: {
    readonly received: number;
    readonly acknowledged: number;
    readonly stored: number;
    readonly duplicates: number;
    readonly conflicts: number;
    readonly quarantined: number;
    readonly ignored: number;
  };
  readonly pending: number;
  readonly store: { readonly state: 'ok' | 'unavailable'; readonly sinceMs: number; readonly detail: string };
  readonly lastError?: string;
}

export interface Ingest {
  readonly address: { readonly host: string; readonly port: number };
  status(): IngestStatus;
  publish(topic: string, payload: string | Uint8Array, options: { retain: boolean }): Promise<void>;
  setDevices(devices: readonly Device[]): void;
  stop(): Promise<void>;
}

const quarantinedBytes = 4096;
const nothing: IngestBatch = { readings: [], quarantined: [], lastKnown: [] };

function quarantined(arrival: Arrival, reason: string, receivedAtMs: number): QuarantinedMessage {
  const { topic, payload } = arrival;
  return {
    topic,
    payload: payload.slice(0, quarantinedBytes),
    payloadBytes: arrival.payloadBytes ?? payload.length,
    reason,
    receivedAtMs,
  };
}

export async function startIngest(options: IngestOptions): Promise<Ingest> {
  const { clock, logger } = options;
  const limits: IngestLimits = { ...standardLimits, ...options.limits };
  const counters = {
    received: 0,
    acknowledged: 0,
    stored: 0,
    duplicates: 0,
    conflicts: 0,
    quarantined: 0,
    ignored: 0,
  };
  let store: IngestStatus['store'] = { state: 'ok', sinceMs: clock(), detail: 'Readings are being stored.' };
  let connection = { connected: false, sinceMs: clock(), detail: 'Not connected yet.' };
  let lastError: string | undefined;

  const group = groupCommit(options.port, limits, {
    onCommitted(result, batch, messages) {
      counters.acknowledged += messages;
      counters.stored += result.stored.length;
      counters.duplicates += result.duplicates;
      counters.conflicts += result.conflicts;
      counters.quarantined += batch.quarantined.length;
      options.onCommitted?.(result);
    },
    onUnavailable(error) {
      lastError = error.message;
      const detail = `Nothing can be stored: ${error.message} Sensors are not acknowledged and will send again.`;
      store = { state: 'unavailable', sinceMs: clock(), detail };
      logger.error({ error: error.message }, detail);
    },
    onAvailable() {
      store = { state: 'ok', sinceMs: clock(), detail: 'Readings are being stored.' };
      logger.info({}, 'Readings are being stored again.');
    },
  });

  function understand(arrival: Arrival): IngestBatch {
    const receivedAtMs = clock();
    if (arrival.refuse !== undefined) {
      return { ...nothing, quarantined: [quarantined(arrival, arrival.refuse, receivedAtMs)] };
    }
    const decoded = decodeMessage({ ...arrival, receivedAtMs });
    if (decoded.ignored !== undefined) counters.ignored += 1;
    const reason = decoded.quarantine;
    return {
      readings: decoded.readings,
      lastKnown: decoded.lastKnown,
      quarantined: reason === undefined ? [] : [quarantined(arrival, reason, receivedAtMs)],
    };
  }

  const receive: Receive = (arrival, settled) => {
    counters.received += 1;
    const part = understand(arrival);
    const refused = part.quarantined[0];
    if (refused) {
      logger.warn(
        { topic: shown(refused.topic), bytes: refused.payloadBytes },
        `A message was put in the quarantine tray: ${refused.reason}.`,
      );
    }
    if (part.readings.length + part.lastKnown.length + part.quarantined.length === 0) settled(true);
    else group.add(part, settled);
  };

  const link = await startEmbedded(
    options.broker,
    limits,
    {
      receive,
      onConnected() {
        connection = { connected: true, sinceMs: clock(), detail: 'The embedded broker is listening.' };
      },
      onDisconnected(reason) {
        connection = { connected: false, sinceMs: clock(), detail: reason };
      },
      onWarning(sentence) {
        lastError = sentence;
        logger.warn({}, sentence);
      },
    },
    clock,
  );

  return {
    address: link.address,
    status: () => ({
      kind: options.broker.kind,
      ...connection,
      counters: { ...counters },
      pending: group.pending(),
      store,
      ...(lastError === undefined ? {} : { lastError }),
    }),
    publish: (topic, payload, how) => link.publish(topic, payload, how),
    setDevices: (devices) => {
      link.setDevices(devices);
    },
    async stop() {
      group.stop();
      await link.stop();
    },
  };
}
