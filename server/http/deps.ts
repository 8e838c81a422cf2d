/** What the composition root hands to the HTTP layer. */
import type { Logger } from 'pino';
import type { Settings } from '../settings.ts';
import type { Store } from '../store/store.ts';
import type { ResponseOf } from './contract/index.ts';
import type { MappingDto } from './contract/sensors.ts';
import type { Status } from './contract/settings.ts';
import type { EventsHub } from './events-hub.ts';
import type { Views } from './views.ts';

/** A device as the embedded broker knows it. */
export interface BrokerDevice {
  readonly name: string;
  readonly passwordHash: string;
  readonly ownTopicsOnly: boolean;
}

/** The running ingest, as far as the page steers it. */
export interface IngestControl {
  status(): Pick<Status, 'broker' | 'ingest'>;
  /** All saved mappings, after one was saved or deleted. */
  setMappings(mappings: readonly MappingDto[]): void;
  setDevices(devices: readonly BrokerDevice[]): void;
  /** What is wrong with a mapping, one sentence each; empty when it can be used. */
  checkMapping(mapping: Readonly<Record<string, unknown>>): readonly string[];
  /** What a mapping makes of a message; nothing is stored. */
  tryMapping(
    mapping: Readonly<Record<string, unknown>>,
    topic: string,
    payload: Uint8Array,
    nowMs: number,
  ): ResponseOf<'tryMapping'>;
}

export interface AppDeps {
  readonly store: Store;
  readonly views: Views;
  readonly ingest: IngestControl;
  readonly events: EventsHub;
  readonly nowMs: () => number;
  readonly log: Logger;
  readonly version: string;
  readonly startedAtMs: number;
  readonly settings: Pick<
    Settings,
    'http' | 'httpTls' | 'basePath' | 'trustedProxies' | 'hostNames' | 'sessionDays' | 'demo'
  >;
  /** `os.hostname()`: browsers may call the server by it. */
  readonly machineName: string;
  /** Why the server is not ready, in one sentence; null when it is. */
  readonly notReady: () => string | null;
  readonly lastEvaluation: () => { readonly atMs: number; readonly ms: number } | null;
  /** Where the built page lies; found beside the server when absent. */
  readonly dashboardFolder?: string;
  /** Tests: every answer is checked against the contract. */
  readonly checkResponses?: boolean;
}
