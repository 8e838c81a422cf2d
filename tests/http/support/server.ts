/** A real server on a free loopback port with a real store in a folder of its own, gone when it is stopped. */
import { mkdtempSync, rmSync } from 'node:fs';
import type { RequestListener } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pino } from 'pino';
import { hashPassword } from '../../../server/farm/password.ts';
import type { EntryCheck } from '../../../server/farm/entry-check.ts';
import type { AppDeps, IngestControl } from '../../../server/http/deps.ts';
import type { SetupCode } from '../../../server/http/access/setup-code.ts';
import { createSetupWindow } from '../../../server/http/access/setup-window.ts';
import { createSetupCode } from '../../../server/http/access/setup-code.ts';
import { createApp } from '../../../server/http/app.ts';
import type { EventsHub } from '../../../server/views/events-hub.ts';
import { createEventsHub } from '../../../server/views/events-hub.ts';
import { listen } from '../../../server/http/listen.ts';
import { openStore } from '../../../server/store/store.ts';
import type { Person } from '../../../server/store/people.ts';
import type { Store } from '../../../server/store/store.ts';
import type { FakeViews } from './fake-views.ts';
import { fakeViews } from './fake-views.ts';

/** 10 May 2031, 06:00 UTC: fixed, so that no test depends on the day it runs. */
export const nowMs = Date.UTC(2031, 4, 10, 6);

export interface FakeIngest extends IngestControl {
  readonly told: string[];
}

function fakeIngest(): FakeIngest {
  const told: string[] = [];
  const counters = {
    received: 5,
    acknowledged: 5,
    commits: 2,
    stored: 4,
    duplicates: 1,
    conflicts: 0,
    quarantined: 0,
    ignored: 0,
  };
  return {
    told,
    address: { host: '127.0.0.1', port: 1883 },
    status: () => ({
      kind: 'embedded',
      connected: true,
      sinceMs: nowMs,
      detail: 'The embedded broker listens.',
      counters,
      pending: 0,
      store: { state: 'ok', sinceMs: nowMs, detail: 'Readings are being stored.' },
    }),
    setMappings: (mappings) => {
      told.push(`mappings ${mappings.map((one) => one.name).join()}`);
    },
    setCalibrated: (channels) => {
      told.push(`calibrated ${channels.map(({ channel }) => channel.sensor).join()}`);
    },
    setDevices: (devices) => {
      told.push(`devices ${devices.map((one) => one.name).join()}`);
    },
  };
}

export interface TestServer {
  readonly url: string;
  readonly port: number;
  readonly store: Store;
  readonly views: FakeViews;
  readonly ingest: FakeIngest;
  readonly events: EventsHub;
  readonly setupCode: SetupCode;
  /** What the log holds, as JSON lines. */
  readonly logged: string[];
  /** Advances the server's clock. */
  pass(ms: number): void;
  stop(): Promise<void>;
}

export interface TestServerOptions {
  readonly settings?: Partial<AppDeps['settings']>;
  readonly dashboardFolder?: string;
  readonly notReady?: string;
  /** The address that requests seem to come from. */
  readonly peer?: string;
  /** How long the first password is taken without the setup code. */
  readonly setupMinutes?: number;
  readonly requestTimeoutMs?: number;
  readonly checkEntry?: EntryCheck;
}

const seenFrom =
  (value: string, app: RequestListener): RequestListener =>
  (request, response) => {
    Object.defineProperty(request.socket, 'remoteAddress', { value, configurable: true });
    app(request, response);
  };

export async function startServer(options: TestServerOptions = {}): Promise<TestServer> {
  const folder = mkdtempSync(join(tmpdir(), 'welcomb-http-'));
  let clock = nowMs;
  const store = openStore({ file: join(folder, 'welcomb.sqlite'), nowMs: () => clock });
  const views = fakeViews(store);
  const ingest = fakeIngest();
  const events = createEventsHub();
  const logged: string[] = [];
  const setupCode = createSetupCode(folder);
  const app = createApp({
    store,
    views,
    ingest,
    events,
    ...(options.checkEntry === undefined ? {} : { checkEntry: options.checkEntry }),
    nowMs: () => clock,
    log: pino({ level: 'info' }, { write: (line: string) => logged.push(line) }),
    version: '0.0.0-test',
    startedAtMs: clock,
    settings: {
      http: { host: '127.0.0.1', port: 0 },
      basePath: '',
      trustedProxies: [],
      hostNames: [],
      sessionDays: 30,
      demo: false,
      metrics: false,
      ...options.settings,
    },
    machineName: 'shed',
    setupCode,
    setupWindow: createSetupWindow(options.setupMinutes ?? 0, store, () => clock - nowMs),
    notReady: () => options.notReady ?? null,
    lastEvaluation: () => ({ atMs: clock, ms: 12 }),
    heartbeat: () => null,
    forecasts: () => [],
    dashboardFolder: options.dashboardFolder ?? join(folder, 'no-dashboard'),
    checkResponses: true,
  });
  const listening = await listen(options.peer === undefined ? app : seenFrom(options.peer, app), {
    host: '127.0.0.1',
    port: 0,
    ...(options.requestTimeoutMs === undefined ? {} : { requestTimeoutMs: options.requestTimeoutMs }),
  });
  return {
    url: listening.url,
    port: listening.port,
    store,
    views,
    ingest,
    events,
    setupCode,
    logged,
    pass: (ms) => {
      clock += ms;
    },
    async stop() {
      await listening.stop(() => {
        events.close();
      });
      store.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

export const passwordOf = (name: string): string => `${name} at the hive`;

const hashes = new Map<string, Promise<string>>();
/** Somebody of the role, known by `passwordOf(name)`; hashed once a test file, for hashing is slow on purpose. */
export async function person(
  server: TestServer,
  name: string,
  role: 'keeper' | 'helper' | 'viewer',
): Promise<Person> {
  const hash = hashes.get(name) ?? hashPassword(passwordOf(name));
  hashes.set(name, hash);
  const somebody = { id: `id-${name}`, name, role, passwordHash: await hash, createdAtMs: nowMs };
  server.store.people.add(somebody);
  return somebody;
}

/** One site, one nuc `n1`, one parent, one introduction, three channels with a day of readings. */
export function furnish({ store }: TestServer): void {
  store.places.putSite({ id: 's1', name: 'Lower field', timeZone: 'Europe/Berlin', latDeg: 50, lonDeg: 8 });
  const box = { kind: 'wood' };
  store.places.putHive({ id: 'p1', siteId: 's1', role: 'parent', name: 'Old oak', box, createdAtMs: nowMs });
  store.places.putHive({
    id: 'n1',
    siteId: 's1',
    role: 'nuc',
    name: 'Nuc 1',
    parentHiveId: 'p1',
    batch: 'May',
    box,
    createdAtMs: nowMs,
  });
  store.introductions.open({
    id: 'intro-000001',
    nucId: 'n1',
    startingPoint: 'planned-split',
    method: 'candy-cage',
    setup: {},
    openedAtMs: nowMs,
  });
  const readings = (
    [
      ['weight', 'kg', 12],
      ['temperature', 'Cel', -3.5],
    ] as const
  ).flatMap(([quantity, unit, start]) =>
    Array.from({ length: 144 }, (_, i) => ({
      sensor: 'scale-1',
      quantity,
      probe: '',
      unit,
      value: start + i / 100,
      observedAtMs: nowMs - 86_400_000 + i * 600_000,
      receivedAtMs: nowMs,
      ...(i === 100 ? { suspect: 'spike' as const } : {}),
    })),
  );
  const quarantined = [
    {
      topic: 'x/y',
      payload: new TextEncoder().encode('<b>?</b>'),
      payloadBytes: 8,
      reason: 'no mapping',
      receivedAtMs: nowMs,
    },
  ];
  store.ingest.commit({ readings, quarantined, lastKnown: [] });
}

/** The fields of a problem document, after checking that it is one. */
export async function problemOf(response: Response): Promise<{
  status: number;
  title: string;
  detail: string;
  errors?: { pointer: string; detail: string }[];
}> {
  const type = response.headers.get('content-type');
  if (type !== 'application/problem+json; charset=utf-8') {
    throw new Error(`no problem document but ${String(type)}: ${await response.text()}`);
  }
  return (await response.json()) as never;
}

/** Sends JSON; `cookie` and further headers as given. */
export const send = (
  url: string,
  method: string,
  body?: unknown,
  headers: Readonly<Record<string, string>> = {},
): Promise<Response> =>
  fetch(url, {
    method,
    headers: { ...(body === undefined ? {} : { 'Content-Type': 'application/json' }), ...headers },
    ...(body === undefined ? {} : { body: JSON.stringify(body) }),
  });

/** The session cookie that an answer sets, as it is sent back; undefined where it sets none. */
export const cookieFrom = (response: Response): string | undefined =>
  response.headers.getSetCookie()[0]?.split(';')[0];
