/** The composition root: opens the store, starts ingest, analysis, HTTP and jobs, and stops them in reverse order. */
import { hostname } from 'node:os';
import { pino, type Logger } from 'pino';
import type { Ingest } from '../ingest/ingest.ts';
import { entryCheck } from './farm/entry-check.ts';
import { createSetupCode, dropSetupCode, type SetupCode } from './http/access/setup-code.ts';
import { createSetupWindow } from './http/access/setup-window.ts';
import { createApp } from './http/app.ts';
import { listen, type Listening } from './http/listen.ts';
import { housekeeping } from './jobs/housekeeping.ts';
import { startJobs } from './jobs/runner.ts';
import { openDataFolder } from './open-folder.ts';
import { serverFacts, startServerIngest, whyNotReady, whyNotWell } from './server-ingest.ts';
import { createFarm, type Farm } from './service/farm-service.ts';
import type { Settings } from './settings.ts';
import { readyToRestore } from './store/backup/restore.ts';
import type { Store } from './store/store.ts';
import { UserError } from './user-error.ts';
import { version } from './version.ts';
import { createEventsHub, type EventsHub } from './views/events-hub.ts';

export interface Running {
  /** Base address of the dashboard. */
  readonly http: string;
  /** Address of the broker in use. */
  readonly mqtt: string;
  readonly store: Store;
  /** What each minute brings, at once: jobs that are due, and every rule. For whoever sets the clock. */
  minute(): Promise<void>;
  stop(): Promise<void>;
}

export interface RunOptions {
  readonly clock?: () => number;
  readonly log?: Logger;
  /** Called with a readied database file when somebody brings a backup back from the page. */
  readonly onRestore?: (incoming: string) => void;
}

/** Rejects with a `UserError` where the server can't start; what was started by then is stopped. */
export async function runServer(settings: Settings, options: RunOptions = {}): Promise<Running> {
  const started = new Started();
  try {
    return await startAll(settings, options, started);
  } catch (error) {
    await started.stop();
    throw error;
  }
}

/** What has been started, to be stopped in reverse order. */
class Started {
  readonly #stops: (() => Promise<void> | void)[] = [];

  add(stop: () => Promise<void> | void): void {
    this.#stops.push(stop);
  }

  async stop(): Promise<void> {
    for (const stop of this.#stops.splice(0).reverse()) await stop();
  }
}

interface Parts {
  readonly settings: Settings;
  readonly store: Store;
  readonly events: EventsHub;
  readonly farm: Farm;
  readonly clock: () => number;
  readonly log: Logger;
}

async function startAll(settings: Settings, options: RunOptions, started: Started): Promise<Running> {
  const clock = options.clock ?? Date.now;
  const log = options.log ?? pino({ level: settings.logLevel }, pino.destination(2));
  const folder = openDataFolder(settings.data, clock, log);
  started.add(() => {
    folder.close();
  });
  const { store } = folder;
  const events = createEventsHub();
  const farm = startFarm({ store, events, clock, log });
  started.add(() => {
    farm.stop();
  });
  const parts: Parts = { settings, store, events, farm, clock, log };
  const ingest = await startServerIngest(parts);
  started.add(() => ingest.stop());
  connect(farm, ingest);
  const setupCode = setupCodeFor(store, settings.data);
  if (setupCode && settings.setupMinutes > 0)
    log.warn(
      `For ${String(settings.setupMinutes)} minutes whoever comes first on the home network sets the first password.`,
    );
  const listening = await serve(parts, ingest, setupCode, options.onRestore);
  started.add(() => listening.stop(() => events.close()));
  const jobs = startHousekeeping(parts, ingest);
  started.add(() => jobs.stop());
  farm.start();
  const mqtt = brokerAddress(settings, ingest);
  announce(`${listening.url}${settings.basePath}`, mqtt, setupCode);
  const minute = async (): Promise<void> => {
    await jobs.runDue();
    await farm.minute();
  };
  return { http: listening.url, mqtt, store, minute, stop: () => started.stop() };
}

function startFarm({ store, events, clock, log }: Pick<Parts, 'store' | 'events' | 'clock' | 'log'>): Farm {
  return createFarm({
    store,
    events,
    clock,
    startedAtMs: clock(),
    onError: (error) => {
      log.error({ err: error }, 'Evaluating the nucs failed; the next evaluation tries again.');
    },
    onWarning: (sentence) => {
      log.warn(sentence);
    },
  });
}

function connect(farm: Farm, ingest: Ingest): void {
  farm.connect({
    facts: () => serverFacts(ingest),
    publish: ({ topic, payload, retain }) => ingest.publish(topic, payload, { retain }),
  });
}

function setupCodeFor(store: Store, folder: string): SetupCode | null {
  if (store.people.list().length === 0) return createSetupCode(folder);
  dropSetupCode(folder);
  return null;
}

/** The call to the heartbeat address, with why it is not made. */
const beatOf =
  ({ store, farm, clock }: Parts, ingest: Ingest) =>
  (): Promise<void> =>
    farm.beat(farm.heartbeat() === null ? null : whyNotWell(ingest, store, clock()));

function serve(
  parts: Parts,
  ingest: Ingest,
  setupCode: SetupCode | null,
  onRestore: RunOptions['onRestore'],
): Promise<Listening> {
  const { settings, store, events, farm, clock, log } = parts;
  const startedAt = performance.now();
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
    setupWindow: createSetupWindow(settings.setupMinutes, store, () => performance.now() - startedAt),
    notReady: () => whyNotReady(ingest),
    lastEvaluation: () => farm.watch.lastRun,
    ...(onRestore && { restore: restoring(onRestore, store) }),
    heartbeat: () => farm.heartbeat(),
    tryAddresses: async () => {
      await Promise.all([beatOf(parts, ingest)(), farm.forecasts.onMinute()]);
    },
    forecasts: () => farm.forecasts.states(),
  });
  return listen(app, { ...settings.http, tls: settings.httpTls });
}

/** One at a time: with the first that is ready this server ends. */
function restoring(onRestore: NonNullable<RunOptions['onRestore']>, { file }: Store) {
  let underWay = false;
  return async (backupFile: string): Promise<void> => {
    if (underWay)
      throw new UserError('busy', 'A backup is being brought back already: wait for it.', {
        retryAfterS: 10,
      });
    underWay = true;
    try {
      onRestore(await readyToRestore(backupFile, file));
    } catch (error) {
      underWay = false;
      throw error;
    }
  };
}

function startHousekeeping(parts: Parts, ingest: Ingest) {
  const { store, farm, clock, log } = parts;
  const beat = beatOf(parts, ingest);
  return startJobs(housekeeping({ store, timeZone: () => farm.timeZone(), log, beat }), {
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
  });
}

function brokerAddress({ broker, mqtt, mqttTls }: Settings, ingest: Ingest): string {
  return broker ?? `${mqttTls ? 'mqtts' : 'mqtt'}://${mqtt.host}:${String(ingest.address.port)}`;
}

function announce(dashboard: string, mqtt: string, setupCode: SetupCode | null): void {
  if (setupCode) process.stdout.write(setupCodeLine(setupCode));
  process.stdout.write(`Dashboard: ${dashboard}\nMQTT: ${mqtt}\n`);
}

const setupCodeLine = ({ text, file }: SetupCode): string =>
  `Setup code, for the first password: ${text}${file === null ? '' : ` (also in ${file})`}\n`;
