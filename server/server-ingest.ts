/** Ingest as the server starts it: with the broker of the settings, joined to store and farm. */
import { readFileSync } from 'node:fs';
import type { Logger } from 'pino';
import { startIngest, type Ingest, type IngestOptions } from '../ingest/ingest.ts';
import { isDevicePassword } from './farm/device-password.ts';
import { activeMappings } from './farm/mappings.ts';
import { heapGrowth } from './process/heap-growth.ts';
import type { Farm, ServerFacts } from './service/farm-service.ts';
import type { Settings } from './settings.ts';
import { StoreUnavailable, type Store } from './store/store.ts';
import { UserError, fileFault } from './user-error.ts';

export interface ServerIngestDeps {
  readonly settings: Settings;
  readonly store: Store;
  readonly farm: Farm;
  readonly clock: () => number;
  readonly log: Logger;
}

/** Rejects with a `UserError` where the broker can't be started. */
export async function startServerIngest(deps: ServerIngestDeps): Promise<Ingest> {
  try {
    return await startIngest(optionsOf(deps));
  } catch (cause) {
    throw new UserError('cannot-start', cause instanceof Error ? cause.message : String(cause), { cause });
  }
}

function optionsOf({ settings, store, farm, clock, log }: ServerIngestDeps): IngestOptions {
  const growth = heapGrowth();
  return {
    port: store.ingest.ofSensors,
    broker: brokerOf(settings, store),
    mappings: () => activeMappings(store),
    announced: store.announcements.list(),
    calibrated: () => store.channels.calibrated(),
    clock,
    logger: log,
    onCommitted: (result) => {
      growth.committed(result.stored.length);
      farm.onCommitted(result);
    },
    onStoreChanged: () => {
      farm.evaluateSoon();
    },
    onDevice: (name) => {
      recordDeviceSeen(store, name, clock(), log);
    },
    onQuarantined: () => {
      farm.onQuarantined();
    },
    onForecast: (message) => farm.takeForecast(message),
  };
}

/** Never throws: this is only for the page, and must not keep a device out. */
function recordDeviceSeen(store: Store, name: string, nowMs: number, log: Logger): void {
  try {
    store.devices.seen(name, nowMs);
  } catch (error) {
    // A store that refuses is announced elsewhere.
    if (error instanceof StoreUnavailable) return;
    log.error({ err: error, device: name }, 'That a device connected could not be noted.');
  }
}

function brokerOf(settings: Settings, store: Store): IngestOptions['broker'] {
  const { broker, mqtt, mqttTls } = settings;
  if (broker === undefined) {
    return {
      kind: 'embedded',
      host: mqtt.host,
      port: mqtt.port,
      ...(mqttTls
        ? { tls: { key: pem(mqttTls.key, 'mqttTls.key'), cert: pem(mqttTls.cert, 'mqttTls.cert') } }
        : {}),
      devices: { devices: store.devices.list(), isPassword: isDevicePassword },
      allowAnonymous: true,
    };
  }
  return {
    kind: 'outside',
    url: broker,
    clientId: settings.brokerClientId,
    ...(settings.brokerUser === undefined ? {} : { username: settings.brokerUser }),
    ...(settings.brokerPassword === undefined ? {} : { password: settings.brokerPassword.reveal() }),
    ...(settings.brokerCa === undefined ? {} : { ca: pem(settings.brokerCa, 'brokerCa') }),
  };
}

function pem(path: string, key: string): string {
  try {
    return readFileSync(path, 'utf8');
  } catch (error) {
    throw new UserError(
      'cannot-start',
      `the file of the setting "${key}" can't be read: ${fileFault(error)}.`,
      {
        cause: error,
      },
    );
  }
}

export function serverFacts(ingest: Ingest): ServerFacts {
  const { connected, sinceMs, store } = ingest.status();
  return {
    brokerAwaySinceMs: connected ? null : sinceMs,
    brokerSinceMs: sinceMs,
    storeRefusingSinceMs: store.state === 'ok' ? null : store.sinceMs,
    storeRefusingWhy: store.state === 'ok' ? null : store.detail,
  };
}

/** Why the monitoring service must not be told that all is well: a broker, store or disk that fails. Null where none does. */
export function whyNotWell(
  ingest: Pick<Ingest, 'status'>,
  store: Pick<Store, 'marks'>,
  nowMs: number,
): string | null {
  const { connected, detail, store: committing } = ingest.status();
  if (!connected) return `the broker is not there. ${detail}`;
  if (committing.state !== 'ok') return committing.detail;
  try {
    // A disk that is full or went read-only is seen by writing, also while no sensor sends.
    store.marks.set('heartbeat', nowMs);
    return null;
  } catch (error) {
    if (!(error instanceof StoreUnavailable)) throw error;
    return error.message;
  }
}

/** Null where readings are being stored. */
export function whyNotReady(ingest: Ingest): string | null {
  const { store } = ingest.status();
  return store.state === 'ok' ? null : store.detail;
}
