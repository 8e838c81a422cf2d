/** How the embedded broker is set, and how much one connection may send. */
import type { DeviceDirectory } from './authenticator.ts';
import type { ListenOptions } from './listener.ts';

export interface EmbeddedBroker extends ListenOptions {
  readonly kind: 'embedded';
  readonly devices: DeviceDirectory;
  /** Nameless clients from this machine, until the first device is made. */
  readonly allowAnonymous: boolean;
}

export interface ConnectionLimits {
  readonly maxConnections: number;
  readonly maxPacketBytes: number;
  /** Sustained; a connection that sends faster is read more slowly. */
  readonly messagesPerSecond: number;
  readonly burst: number;
}
