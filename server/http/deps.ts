/** What the composition root hands to the HTTP layer. */
import type { Logger } from 'pino';
import type { Ingest } from '../../ingest/ingest.ts';
import type { Settings } from '../settings.ts';
import type { Store } from '../store/store.ts';
import type { EntryCheck } from '../farm/entry-check.ts';
import type { SetupCode } from './access/setup-code.ts';
import type { SetupWindow } from './access/setup-window.ts';
import type { EventsHub } from '../views/events-hub.ts';
import type { Views } from '../views/views.ts';

/** The running ingest, as far as the page steers it. */
export type IngestControl = Pick<
  Ingest,
  'address' | 'status' | 'setMappings' | 'setCalibrated' | 'setDevices'
>;

export interface AppDeps {
  readonly store: Store;
  readonly views: Views;
  readonly ingest: IngestControl;
  readonly events: EventsHub;
  /** Beyond what the store sees by itself (an unknown introduction, an id that is taken). */
  readonly checkEntry?: EntryCheck;
  readonly nowMs: () => number;
  readonly log: Logger;
  readonly version: string;
  readonly startedAtMs: number;
  readonly settings: Pick<
    Settings,
    'http' | 'broker' | 'basePath' | 'trustedProxies' | 'hostNames' | 'sessionDays' | 'demo' | 'metrics'
  >;
  /** `os.hostname()`: browsers may call the server by it. */
  readonly machineName: string;
  /** Asked for by the first password; null where somebody has one already. */
  readonly setupCode: SetupCode | null;
  readonly setupWindow: SetupWindow;
  /** Why the server is not ready, in one sentence; null when it is. */
  readonly notReady: () => string | null;
  /**
   * Readies a backup and lets the server start again with it soon. Rejects with `StoreRefused` for one that won't do.
   * Absent where there is nothing to restore into (the demo).
   */
  readonly restore?: (backupFile: string) => Promise<void>;
  readonly lastEvaluation: () => { readonly atMs: number; readonly ms: number } | null;
  /** The last call to the monitoring service; null where no address is set. */
  readonly heartbeat: () => { readonly sentAtMs: number | null; readonly problem: string | null } | null;
  /** Calls the addresses of the heartbeat and of the forecast now, where they are set. */
  readonly tryAddresses?: () => Promise<void>;
  /** Site by site; of the address only the host. */
  readonly forecasts: () => readonly {
    readonly site: string;
    readonly host: string;
    readonly fetchedAtMs: number | null;
    readonly problem: string | null;
  }[];
  /** Where the built page lies; found beside the server when absent. */
  readonly dashboardFolder?: string;
  /** Tests: every answer is checked against the contract. */
  readonly checkResponses?: boolean;
}
