/** The farm behind a real embedded broker, with a clock that tests move: only the timers are not real. */
import { join } from 'node:path';
import { connectAsync, type MqttClient } from 'mqtt';
import { startIngest, type Ingest } from '../../../ingest/ingest.ts';
import { createEventsHub, type EventsHub } from '../../../server/views/events-hub.ts';
import { createFarm, type Farm } from '../../../server/service/farm-service.ts';
import type { Owner, Position } from '../../../server/store/places/assignments.ts';
import { openStore, type Store } from '../../../server/store/store.ts';
import { dropFolder, newFolder } from '../../support/server-process.ts';

export const minuteMs = 60_000;
export const hourMs = 60 * minuteMs;
const dayMs = 24 * hourMs;
/** How often the sensors of `runUntil` report. */
export const everyMs = 10 * minuteMs;

const quiet = { info: () => undefined, warn: () => undefined, error: () => undefined };
export const siteId = 'hill';

export interface Reading {
  readonly sensor: string;
  readonly quantity: 'weight' | 'temperature' | 'battery';
  readonly probe?: string;
  readonly value: number;
  readonly unit?: string;
  readonly atMs: number;
}

export interface ClockedFarm {
  readonly store: Store;
  readonly farm: Farm;
  /** What open pages hear. */
  readonly events: EventsHub;
  readonly folder: string;
  nowMs: number;
  /** Over MQTT with QoS 1; resolves when all are committed. */
  publish(readings: readonly Reading[]): Promise<void>;
  /** What happens once a minute. */
  minute(): Promise<void>;
  close(): Promise<void>;
}

export async function clockedFarm(startMs: number, folder = newFolder()): Promise<ClockedFarm> {
  let nowMs = startMs;
  const clock = (): number => nowMs;
  const store = openStore({ file: join(folder, 'welcomb.db'), nowMs: clock });
  const events = createEventsHub();
  const farm = createFarm({
    store,
    events,
    clock,
    startedAtMs: nowMs,
    onError: (error) => {
      throw error;
    },
  });
  const ingest: Ingest = await startIngest({
    port: store.ingest,
    broker: {
      kind: 'embedded',
      host: '127.0.0.1',
      port: 0,
      devices: { devices: [], isPassword: () => Promise.resolve(false) },
      allowAnonymous: true,
    },
    clock,
    logger: quiet,
    onCommitted: (result) => {
      farm.watch.readingsCame(result, nowMs);
    },
  });
  const client: MqttClient = await connectAsync(`mqtt://127.0.0.1:${String(ingest.address.port)}`);
  return {
    store,
    farm,
    events,
    folder,
    get nowMs() {
      return nowMs;
    },
    set nowMs(atMs) {
      nowMs = atMs;
    },
    async publish(readings) {
      await Promise.all(
        readings.map(({ sensor, quantity, probe, value, unit, atMs }) =>
          client.publishAsync(
            ['welcomb', sensor, quantity, ...(probe === undefined ? [] : [probe])].join('/'),
            JSON.stringify({ value, time: atMs / 1000, ...(unit === undefined ? {} : { unit }) }),
            { qos: 1 },
          ),
        ),
      );
    },
    async minute() {
      await farm.minute();
    },
    async close() {
      await client.endAsync();
      await ingest.stop();
      farm.stop();
      events.close();
      store.close();
      dropFolder(folder);
    },
  };
}

/** The site and so many nucs, called `nuc-1` and so on; the watch hears of a change at `places`. */
export function foundNucs(
  { store, farm, nowMs }: ClockedFarm,
  count: number,
  places?: readonly Owner[],
): string[] {
  store.places.putSite({ id: siteId, name: 'Hill', latDeg: 50, lonDeg: 10, timeZone: 'Europe/Berlin' });
  const ids = Array.from({ length: count }, (_, i) => `nuc-${String(i + 1)}`);
  for (const id of ids) {
    store.places.putHive({
      id,
      siteId,
      role: 'nuc',
      name: id.replace('nuc-', 'Nuc '),
      box: { kind: 'wood' },
      createdAtMs: nowMs,
    });
  }
  farm.watch.setupChanged(nowMs, places);
  return ids;
}

const positionOf: Readonly<Record<string, Position>> = {
  'weight ': 'scale',
  'temperature brood': 'brood',
  'temperature cage': 'cage',
  'battery ': 'battery',
};

/** Every channel that stands nowhere yet is put to the nuc that `hiveOf` names for its sensor. */
export function assignAll(
  { store, farm, nowMs }: ClockedFarm,
  hiveOf: (sensor: string, probe: string) => string,
): void {
  const standing = new Set(store.places.listAssignments().map(({ channelId }) => channelId));
  for (const { id, sensor, quantity, probe } of store.channels.list()) {
    const position = positionOf[`${quantity} ${probe}`] ?? (quantity === 'temperature' ? 'brood' : undefined);
    if (standing.has(id) || position === undefined) continue;
    store.places.assign({
      channelId: id,
      owner: { hiveId: hiveOf(sensor, probe) },
      position,
      fromMs: nowMs - 30 * dayMs,
      toMs: null,
    });
  }
  farm.watch.setupChanged(nowMs);
}

/** Moves the clock on, a report and what a minute brings each time; `reports` gives what the sensors send then. */
export async function runUntil(
  farm: ClockedFarm,
  toMs: number,
  reports: (nowMs: number) => readonly Reading[],
): Promise<void> {
  for (; farm.nowMs < toMs; farm.nowMs += everyMs) {
    const readings = reports(farm.nowMs);
    if (readings.length > 0) await farm.publish(readings);
    await farm.minute();
  }
}

/** A notification channel that always works: this page. */
export function notifyPage({ store }: ClockedFarm): void {
  store.settings.put(
    'telling/page',
    {
      id: 'page',
      name: 'The page',
      kind: 'browser',
      enabled: true,
      urgencies: ['now', 'today', 'next-visit'],
      address: '',
    },
    { by: 'test' },
  );
}
