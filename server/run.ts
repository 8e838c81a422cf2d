/** The composition root: opens the store, starts ingest, analysis, jobs and HTTP, and stops them in order. */
import { readFileSync } from 'node:fs';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { pino, type Logger } from 'pino';
import { startIngest, type Ingest, type IngestOptions } from '../ingest/ingest.ts';
import { entryCheck } from './farm/entry-check.ts';
import { heapGrowth } from './heap-growth.ts';
import { createFarm, type Farm, type ServerFacts } from './service/farm.ts';
import { createSetupCode, dropSetupCode, type SetupCode } from './http/access/setup-code.ts';
import { isDevicePassword } from './farm/device-password.ts';
import { createApp } from './http/app.ts';
import { createEventsHub, type EventsHub } from './views/events-hub.ts';
import { listen, type Listening } from './http/listen.ts';
import { backupFolder, settingFaults } from './farm/settings.ts';
import { activeMappings } from './farm/mappings.ts';
import { housekeeping } from './jobs/housekeeping.ts';
import { startJobs } from './jobs/runner.ts';
import type { Settings } from './settings.ts';
import { databaseName, lockFolder, type FolderLock } from './store/data-folder.ts';
import { tightenDataFolder, tightenFiles } from './store/private-files.ts';
import { readyToRestore } from './store/restore.ts';
import { openStore, StoreUnavailable, type Store } from './store/store.ts';
import { UserError } from './user-error.ts';
import { version } from './version.ts';

export interface Running {
  /** Base address of the dashboard. */
  readonly http: string;
  /** Address of the broker in use. */
  readonly mqtt: string;
  readonly store: Store;
  stop(): Promise<void>;
}

export interface RunOptions {
  readonly clock?: () => number;
  readonly log?: Logger;
  /** Called with a readied database file when somebody brings a backup back from the page. */
  readonly onRestore?: (incoming: string) => void;
}

export async function runServer(settings: Settings, options: RunOptions = {}): Promise<Running> {
  const clock = options.clock ?? Date.now;
  const log = options.log ?? pino({ level: settings.logLevel }, pino.destination(2));
  const { store, letGo } = openStoreIn(settings.data, clock, log);
  const events = createEventsHub();
  const started: (() => Promise<void> | void)[] = [letGo];
  const stop = async (): Promise<void> => {
    for (const step of started.splice(0).reverse()) await step();
  };
  try {
    const farm = createFarm({
      store,
      events,
      clock,
      startedAtMs: clock(),
      onError: (error) => {
        log.error({ err: error }, 'Evaluating the nucs failed; the next evaluation tries again.');
      },
    });
    started.push(() => farm.stop());
    const ingest = await startServerIngest(settings, store, farm, clock, log);
    started.push(() => ingest.stop());
    farm.connect({
      facts: () => serverFacts(ingest),
      publish: ({ topic, payload, retain }) => ingest.publish(topic, payload, { retain }),
    });
    const setupCode = setupCodeFor(store, settings.data);
    const listening = await serve({
      setupCode,
      settings,
      store,
      farm,
      ingest,
      events,
      clock,
      log,
      ...(options.onRestore && { onRestore: options.onRestore }),
    });
    started.push(() =>
      listening.stop(() => {
        events.close();
      }),
    );
    const jobs = startJobs(
      housekeeping({
        store,
        timeZone: () => farm.timeZone(),
        log,
        beat: () => farm.beat(whyNotReady(ingest)),
      }),
      {
        clock,
        lastSuccess: {
          get: (name) => store.marks.get(`job ${name}`) ?? null,
          set: (name, at) => {
            store.marks.set(`job ${name}`, at);
          },
        },
        onError: (job, error) => {
          log.error({ job, error: String(error) }, `The job ${job} failed and is tried again.`);
        },
      },
    );
    started.push(() => jobs.stop());
    farm.start();
    const mqtt =
      settings.broker ??
      `${settings.mqttTls ? 'mqtts' : 'mqtt'}://${settings.mqtt.host}:${String(ingest.address.port)}`;
    if (setupCode) process.stdout.write(setupCodeLine(setupCode));
    process.stdout.write(`Dashboard: ${listening.url}${settings.basePath}\nMQTT: ${mqtt}\n`);
    return { http: listening.url, mqtt, store, stop };
  } catch (error) {
    await stop();
    throw error;
  }
}

function setupCodeFor(store: Store, folder: string): SetupCode | null {
  if (store.people.list().length === 0) return createSetupCode(folder);
  dropSetupCode(folder);
  return null;
}

const setupCodeLine = ({ text, file }: SetupCode): string =>
  `Setup code, for the first password: ${text}${file === null ? '' : ` (also in ${file})`}\n`;

function openStoreIn(
  folder: string,
  clock: () => number,
  log: Logger,
): { readonly store: Store; letGo(): void } {
  let lock: FolderLock | undefined;
  try {
    lock = lockFolder(folder);
    const exposed = tightenDataFolder(folder);
    const store = openStore({ file: join(folder, databaseName), nowMs: clock, logger: log });
    const backups = backupFolder(store);
    if (backups !== null) exposed.push(...tightenFiles(backups));
    if (exposed.length > 0)
      log.warn({ exposed }, 'Other users of this machine may read these: take their rights.');
    for (const fault of settingFaults(store.settings))
      log.warn(
        { setting: fault.name, problem: fault.problem },
        `A stored setting can’t be read. ${fault.effect}`,
      );
    return {
      store,
      letGo() {
        store.close();
        lock?.release();
      },
    };
  } catch (error) {
    lock?.release();
    if (error instanceof UserError) throw error;
    const reason = error instanceof Error ? error.message : String(error);
    throw new UserError(
      'cannot-start',
      `the data folder ${folder} can't be used: ${reason}; name another with --data.`,
      {
        cause: error,
      },
    );
  }
}

async function startServerIngest(
  settings: Settings,
  store: Store,
  farm: Farm,
  clock: () => number,
  log: Logger,
): Promise<Ingest> {
  const growth = heapGrowth();
  try {
    return await startIngest({
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
        noteDevice(store, name, clock(), log);
      },
      onQuarantined: () => {
        farm.onQuarantined();
      },
      onForecast: (message) => farm.takeForecast(message),
    });
  } catch (error) {
    throw new UserError('cannot-start', error instanceof Error ? error.message : String(error), {
      cause: error,
    });
  }
}

/** Only for the page: a device is not kept waiting because it can't be noted. */
function noteDevice(store: Store, name: string, nowMs: number, log: Logger): void {
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
    const reason = error instanceof Error ? error.message : String(error);
    throw new UserError('cannot-start', `the file of the setting "${key}" can't be read: ${reason}.`, {
      cause: error,
    });
  }
}

interface Serving {
  readonly setupCode: SetupCode | null;
  readonly settings: Settings;
  readonly store: Store;
  readonly farm: Farm;
  readonly ingest: Ingest;
  readonly events: EventsHub;
  readonly clock: () => number;
  readonly log: Logger;
  readonly onRestore?: (incoming: string) => void;
}

function serve({
  setupCode,
  settings,
  store,
  farm,
  ingest,
  events,
  clock,
  log,
  onRestore,
}: Serving): Promise<Listening> {
  const app = createApp({
    store,
    views: farm.views,
    ingest,
    checkEntry: entryCheck(store),
    events,
    nowMs: clock,
    log,
    version,
    startedAtMs: clock(),
    settings,
    machineName: hostname(),
    setupCode,
    notReady: () => whyNotReady(ingest),
    lastEvaluation: () => farm.watch.lastRun,
    ...(onRestore && {
      restore: async (backupFile: string) => {
        onRestore(await readyToRestore(backupFile, store.file));
      },
    }),
    forecasts: () => farm.forecasts(),
  });
  return listen(app, { ...settings.http, tls: settings.httpTls });
}

function serverFacts(ingest: Ingest): ServerFacts {
  const { connected, sinceMs, store } = ingest.status();
  return {
    brokerAwaySinceMs: connected ? null : sinceMs,
    storeRefusingSinceMs: store.state === 'ok' ? null : store.sinceMs,
    storeRefusingWhy: store.state === 'ok' ? null : store.detail,
  };
}

function whyNotReady(ingest: Ingest): string | null {
  const { store } = ingest.status();
  return store.state === 'ok' ? null : store.detail;
}
