/** The demo's farm on a server in this process, with one of each thing that it has not by itself. */
import { setTimeout } from 'node:timers/promises';
import { pino } from 'pino';
import type { ResponseOf } from '../../server/contract/index.ts';
import { assignChannels, writeDown } from '../../server/demo.ts';
import { runServer, type Running } from '../../server/run.ts';
import { parseSettings } from '../../server/settings.ts';
import type { IncomingReading } from '../../server/store/port.ts';
import type { StoredUnit } from '../../server/units.ts';
import { buildDemo } from '../../simulator/demo/demo.ts';
import { newFolder } from './server-process.ts';

const minuteMs = 60_000;
const hourMs = 60 * minuteMs;
export const dayMs = 24 * hourMs;
export const nowMs = Date.UTC(2031, 4, 20, 10);
export const iso = (ms: number): string => new Date(ms).toISOString();

export interface Server extends Running {
  at(ms: number): void;
  readonly folder: string;
  send<T>(method: string, path: string, body?: unknown, type?: string): Promise<T>;
}

export async function open(startMs: number, folder = newFolder()): Promise<Server> {
  const args = ['--data', folder, '--http', '127.0.0.1:0', '--mqtt', '127.0.0.1:0'];
  const parsed = parseSettings(args, {}, () => '');
  if (!parsed.ok) throw new Error(parsed.message);
  let clockMs = startMs;
  const running = await runServer(parsed.settings, {
    clock: () => clockMs,
    log: pino({ level: 'silent' }),
  });
  return {
    ...running,
    folder,
    at: (ms) => {
      clockMs = ms;
    },
    async send<T>(method: string, path: string, body?: unknown, type = 'application/json') {
      const response = await fetch(`${running.http}/api/v1/${path}`, {
        method,
        headers: { 'content-type': type, origin: new URL(running.http).origin },
        ...(body !== undefined && { body: typeof body === 'string' ? body : JSON.stringify(body) }),
      });
      const text = await response.text();
      if (!response.ok) throw new Error(`${method} ${path}: ${String(response.status)} ${text}`);
      const isJson = /^application\/json(;|$)/.test(response.headers.get('content-type') ?? '');
      return (isJson ? JSON.parse(text) : text) as T;
    },
  };
}

/** A quarter of the demo's readings, each received when it arrived there. */
function fillReadings({ store }: Server, demo: ReturnType<typeof buildDemo>): void {
  let batch: IncomingReading[] = [];
  const commit = (): void => {
    store.ingest.commit({ readings: batch, quarantined: [], lastKnown: [] });
    batch = [];
  };
  for (const { sensor, quantity, probe = '', unit, value, stampedAtMs, atMs } of demo.readings()) {
    if (Math.floor(stampedAtMs / (5 * minuteMs)) % 4 !== 0) continue;
    const unitOf = unit as StoredUnit;
    batch.push({
      sensor,
      quantity,
      probe,
      unit: unitOf,
      value,
      observedAtMs: stampedAtMs,
      receivedAtMs: atMs,
    });
    if (batch.length >= 5000) commit();
  }
  commit();
}

/** What the demo has not: an older season whose raw readings are gone, and one of each thing that a keeper can set. */
async function furnish(server: Server, demo: ReturnType<typeof buildDemo>): Promise<void> {
  const { store, send } = server;
  const [site] = demo.sites;
  const siteId = site?.key ?? '';
  const common = { sensor: 'old scale', quantity: 'weight', probe: '', unit: 'kg' } as const;
  const old = Array.from({ length: 6 * 24 * 4 }, (_, i): IncomingReading => {
    const at = nowMs - 300 * dayMs + i * 15 * minuteMs;
    return { ...common, value: 12 + Math.sin(i / 20) / 7, observedAtMs: at, receivedAtMs: at };
  });
  store.ingest.commit({ readings: old, quarantined: [], lastKnown: [] });
  const oldId = store.channels.find(common)?.id ?? 0;
  await send('POST', `channels/${String(oldId)}/calibrations`, {
    kind: 'offset',
    from: iso(nowMs - 299 * dayMs),
    add: 0.5,
  });
  store.places.assign({
    channelId: oldId,
    owner: { siteId },
    position: 'humidity',
    fromMs: nowMs - 300 * dayMs,
    toMs: nowMs - 290 * dayMs,
  });
  while (store.readings.seal().more);
  store.expire({ rawBeforeMs: nowMs - 200 * dayMs, unassignedBeforeMs: nowMs - 200 * dayMs });

  const retained = { sensor: 'retained', quantity: 'temperature', probe: '', unit: 'Cel' } as const;
  const late = {
    ...common,
    sensor: 'gap',
    value: 3,
    observedAtMs: nowMs - 9 * hourMs,
    receivedAtMs: nowMs - hourMs,
  };
  store.ingest.commit({
    readings: [late, { ...late, value: 4 }],
    quarantined: [1, 2].map((i) => ({
      topic: 'attic/odd',
      payload: Buffer.from([0xff, i]),
      payloadBytes: 2,
      reason: 'no format that is known',
      receivedAtMs: nowMs - i * hourMs,
    })),
    lastKnown: [{ ...retained, value: 4, receivedAtMs: nowMs - hourMs }],
    announcements: [{ kind: 'property', key: 'homie/x', value: '{"unit":"kg"}' }],
  });
  store.forecasts.keep({
    kind: 'topic',
    siteId,
    source: 'weather/hours',
    saidAtMs: nowMs - hourMs,
    knownAtMs: nowMs - hourMs,
    hours: Array.from({ length: 30 }, (_, i) => ({
      atMs: nowMs + (i - 2) * hourMs,
      temperatureC: 4 + (i % 5),
    })),
  });
  store.queens.putQueen({ id: 'queen-1', source: 'Line 7', line: 'dark' });
  const [parent] = demo.parents;
  await send('POST', `hives/${parent?.key ?? ''}/visits`, {
    kind: 'frames-taken',
    note: 'two frames of brood',
  });
  const seen = await send<{ id: string }>('POST', `hives/${parent?.key ?? ''}/visits`, { kind: 'looked-in' });
  await send('DELETE', `hives/${parent?.key ?? ''}/visits/${seen.id}`);
  await send('PUT', 'plan/unavailable', { days: ['2031-05-25'] });
  await send('PUT', 'settings/farm', {
    farmName: 'Hillside',
    standingCellLimit: 0.04,
    display: { temperature: 'F' },
  });
  await send('PUT', 'settings/limits', {
    scope: 'site',
    scopeId: siteId,
    ruleId: 'battery-low',
    field: 'holdMin',
    value: 33,
  });
  await send('PUT', 'mappings/shed', {
    name: 'Shed',
    enabled: false,
    mapping: {
      name: 'Shed',
      topic: 'shed/+sensor/w',
      sensor: { level: 'sensor' },
      values: [{ quantity: 'weight', unit: 'g' }],
    },
  });
}

/** Until it has nothing more to evaluate: two looks alike. */
export async function settled(server: Server, look: () => Promise<unknown>): Promise<void> {
  let before = '';
  for (let times = 0; times < 100; times += 1) {
    const now = JSON.stringify(await look());
    const { lastEvaluation } = await server.send<ResponseOf<'status'>>('GET', 'status');
    if (now === before && lastEvaluation !== null) return;
    before = now;
    await setTimeout(1500);
  }
  throw new Error('the server never came to rest');
}

/** Fills a folder; the channels' numbers have a gap, so that another server's are other ones. */
export async function fillFarm(folder: string): Promise<void> {
  const filling = await open(nowMs, folder);
  const demo = buildDemo(nowMs, 20, 'Europe/Berlin');
  const stray = { sensor: 'stray', quantity: 'weight', probe: '', unit: 'kg' } as const;
  filling.store.forgetChannels([filling.store.channels.ensure(stray)]);
  await writeDown(demo, filling.http);
  fillReadings(filling, demo);
  await furnish(filling, demo);
  await assignChannels(demo, filling.send);
  const { path } = await filling.send<{ path: string }>('POST', 'plan/calendar-link');
  await fetch(new URL(path, filling.http));
  await filling.stop();
}

/** Alerts are raised, and answered in each way. */
export async function raiseAlerts(folder: string): Promise<void> {
  // Each start evaluates everything: what must hold for a while is raised by the second or third.
  for (const minutes of [30, 60, 90]) {
    const server = await open(nowMs + minutes * minuteMs, folder);
    server.at(nowMs + minutes * minuteMs + 5000);
    await settled(server, () => server.send('GET', 'alerts?state=all&limit=500'));
    const { items } = await server.send<ResponseOf<'listAlerts'>>('GET', 'alerts?state=open');
    const acts = [
      { action: 'seen' },
      { action: 'close', found: 'nothing wrong' },
      { action: 'put-off', until: iso(nowMs + dayMs) },
    ];
    if (minutes === 60)
      for (const [i, act] of acts.entries())
        await server.send('POST', `alerts/${encodeURIComponent(items[i]?.id ?? '')}/actions`, act);
    await server.stop();
  }
}
