/** What ingest asks of a broker, embedded or outside. */
import type { Device } from './authenticator.ts';

/** Of one message, however often it is sent again. */
export interface Receipt {
  /** The moment of receipt that it was given when it came first; set by whoever takes it. */
  atMs?: number;
}

export interface Arrival {
  readonly topic: string;
  readonly payload: Uint8Array;
  readonly retain: boolean;
  /** The connection that will bring it again if it breaks before the acknowledgement. */
  readonly owner?: object;
  /** Where the same message may come again under the same identifier. */
  readonly receipt?: Receipt;
  /** Why it is quarantined unread: beyond its sender's rights, too large. */
  readonly refuse?: string | undefined;
  /** Its true size, where `payload` is only the beginning. */
  readonly payloadBytes?: number;
}

/** Calls `settled(true)` when it may be acknowledged, `settled(false)` when the sender has to keep it. */
export type Receive = (arrival: Arrival, settled: (stored: boolean) => void) => void;

export interface LinkEvents {
  readonly receive: Receive;
  onConnected(): void;
  onDisconnected(reason: string): void;
  onWarning(sentence: string): void;
  /** A device signed in. */
  onDevice(name: string): void;
}

export interface Link {
  /** Host and port: where the embedded broker listens, or the broker that was connected to. */
  readonly address: { readonly host: string; readonly port: number };
  publish(topic: string, payload: string | Uint8Array, options: { retain: boolean }): Promise<void>;
  /** Topic filters that mappings need; only a broker of somebody else has to be asked. */
  setFilters(filters: readonly string[]): void;
  /** Nothing where the broker is somebody else's. */
  setDevices(devices: readonly Device[]): void;
  stop(): Promise<void>;
}
