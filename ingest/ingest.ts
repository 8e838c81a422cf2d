/** MQTT messages are decoded, committed in groups, and acknowledged only then. */
import type { Announcement, CalibratedChannel, CommitResult, IngestPort } from '../server/store/port.ts';
import type { Device } from './broker/authenticator.ts';
import { startEmbedded } from './broker/embedded.ts';
import type { ConnectionLimits, EmbeddedBroker } from './broker/embedded-options.ts';
import type { Link } from './broker/link.ts';
import type { OutsideEvents } from './broker/outside.ts';
import type { OutsideBroker, OutsideLimits } from './broker/outside-options.ts';
import { discoveryFilters } from './decode/discovery.ts';
import type { Mapping } from './decode/mapping-schema.ts';
import { ownRoot } from './decode/own-topics.ts';
import { plainFilter } from './decode/topic-filter.ts';
import { groupCommit, defaultGroupLimits, type GroupLimits } from './group-commit.ts';
import type { IngestLogger } from './logger.ts';
import { makeReception, type OnForecast, type Reception } from './reception.ts';
import { makeStatus, type IngestStatus, type StatusKeeper } from './status.ts';

export type IngestLimits = GroupLimits & ConnectionLimits & OutsideLimits;

/** Far above what a farm sends, some hundred messages a minute, and below what would take a small board's memory. */
const defaultLimits: IngestLimits = {
  ...defaultGroupLimits,
  maxConnections: 500,
  maxPacketBytes: 256 * 1024,
  messagesPerSecond: 1000,
  burst: 50_000,
  receiveMaximum: 2000,
  keepaliveS: 30,
  reconnectMs: 1000,
  maxReconnectMs: 30_000,
};

export interface IngestOptions {
  readonly port: IngestPort;
  readonly broker: EmbeddedBroker | OutsideBroker;
  /** In the order in which they are tried. */
  readonly mappings?: () => readonly Mapping[];
  /** What sensors announced about themselves before the last stop: what the port was given to keep. */
  readonly announced?: readonly Announcement[];
  /** By what the keeper calibrated: readings are judged by what they mean. */
  readonly calibrated?: () => readonly CalibratedChannel[];
  readonly clock: () => number;
  readonly logger: IngestLogger;
  readonly limits?: Partial<IngestLimits>;
  /** After each commit. */
  readonly onCommitted?: (result: CommitResult) => void;
  /** The store began to refuse, or takes readings again; `status()` says which. */
  readonly onStoreChanged?: () => void;
  /** A device signed in. */
  readonly onDevice?: (name: string) => void;
  /** After a commit that quarantined messages. */
  readonly onQuarantined?: () => void;
  /** A forecast on a topic of its own: null, or the reason why it is quarantined. */
  readonly onForecast?: OnForecast;
}

export interface Ingest {
  readonly address: { readonly host: string; readonly port: number };
  status(): IngestStatus;
  publish(topic: string, payload: string | Uint8Array, options: { retain: boolean }): Promise<void>;
  setMappings(mappings: readonly Mapping[]): void;
  setCalibrated(channels: readonly CalibratedChannel[]): void;
  /** Has no effect where the broker is somebody else's. */
  setDevices(devices: readonly Device[]): void;
  stop(): Promise<void>;
}

/** Always subscribed to on an outside broker. */
const defaultFilters = [`${ownRoot}/#`, 'homie/#', ...discoveryFilters];

async function startLink(options: IngestOptions, limits: IngestLimits, events: OutsideEvents): Promise<Link> {
  const { broker, clock } = options;
  if (broker.kind === 'embedded') return startEmbedded(broker, limits, events, clock);
  // The MQTT client is loaded only where it is needed.
  const { startOutside } = await import('./broker/outside.ts');
  return startOutside(broker, limits, events, defaultFilters);
}

function startGroup(options: IngestOptions, limits: IngestLimits, status: StatusKeeper) {
  return groupCommit(options.port, limits, {
    onCommitted(result, batch, messages) {
      status.committed(result, batch, messages);
      try {
        options.onCommitted?.(result);
        if (batch.quarantined.length > 0) options.onQuarantined?.();
      } catch (error) {
        // The readings are safe and acknowledged; what was to be made of them must not stop the next ones.
        status.warn(`What follows a commit failed: ${String(error)}.`);
      }
    },
    onUnavailable(error) {
      status.storeUnavailable(error);
      options.onStoreChanged?.();
    },
    onAvailable() {
      status.storeAvailable();
      options.onStoreChanged?.();
    },
  });
}

/**
 * Starts to listen (embedded) or to connect (outside; it keeps trying). Rejects with one sentence when the embedded
 * broker can't listen.
 */
export async function startIngest(options: IngestOptions): Promise<Ingest> {
  const limits: IngestLimits = { ...defaultLimits, ...options.limits };
  const status = makeStatus(options.broker.kind, options.clock, options.logger);
  const group = startGroup(options, limits, status);
  const reception: Reception = makeReception(options, group, status);
  const link = await startLink(options, limits, {
    receive: reception.receive,
    forget: (owner) => {
      group.forget(owner);
    },
    onConnected: () => {
      status.connected(options.broker.kind === 'embedded' ? 'The embedded broker listens.' : 'Connected.');
    },
    onDisconnected: (reason) => {
      status.disconnected(reason);
    },
    onWarning: (sentence) => {
      status.warn(sentence);
    },
    onDevice: (name) => options.onDevice?.(name),
  });
  const ask = (): void => {
    link.setFilters([...reception.filters()].map(plainFilter));
  };
  reception.onNewFilters(ask);
  ask();

  return {
    address: link.address,
    status: () => status.now(group.pending()),
    publish: (topic, payload, how) => {
      reception.ignoreTopic(topic);
      return link.publish(topic, payload, how);
    },
    setMappings(mappings) {
      reception.setMappings(mappings);
      ask();
    },
    setCalibrated: (channels) => {
      reception.setCalibrated(channels);
    },
    setDevices: (devices) => {
      link.setDevices(devices);
    },
    async stop() {
      group.stop();
      await link.stop();
    },
  };
}
