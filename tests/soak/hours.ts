/**
 * Hours of the whole server in compressed time on a farm with years of history: every minute each sensor speaks over
 * MQTT and all rules look; every hour a keeper opens the pages, and the heap is read after a full collection.
 */
import { fileURLToPath } from 'node:url';
import { connectAsync, type MqttClient } from 'mqtt';
import { makeLiveFarm, readingsOf } from '../bench/live-farm.ts';
import { startChild, type Child } from './child.ts';
import { SeasonKeeper } from './season-keeper.ts';
import { lineThrough } from './season-verdicts.ts';

export interface HoursOptions {
  readonly folder: string;
  readonly nucs: number;
  /** Of history, a reading in ten minutes. */
  readonly days: number;
  readonly hours: number;
}

export interface HourOfMemory {
  readonly hour: number;
  readonly heapMb: number;
  /** Arrays outside the heap. */
  readonly arraysMb: number;
  readonly residentMb: number;
}

const program = fileURLToPath(new URL('./season-serve.ts', import.meta.url));
const minuteMs = 60_000;
const dayMs = 1440 * minuteMs;
const startMs = Date.UTC(2026, 5, 1, 6);
/** Of the heap by a line from the second hour on: the first one reads everything once and compiles. */
export const mostGrowth = 0.05;

async function speak(device: MqttClient, nucs: number, atMs: number): Promise<void> {
  const readings = Array.from({ length: nucs }, (_, nuc) => readingsOf(nuc, atMs)).flat();
  await Promise.all(
    readings.map(({ sensor, quantity, probe, unit, value }) =>
      device.publishAsync(
        ['welcomb', sensor, quantity, ...(probe === '' ? [] : [probe])].join('/'),
        JSON.stringify({ value, unit, time: new Date(atMs).toISOString() }),
        { qos: 1 },
      ),
    ),
  );
}

async function look(keeper: SeasonKeeper, nowMs: number): Promise<void> {
  const from = new Date(nowMs - 180 * dayMs).toISOString();
  for (const path of [
    '/nucs',
    '/plan',
    '/nucs/nuc-0',
    `/nucs/nuc-0/chart?from=${from}`,
    '/nucs/nuc-0/evaluations',
  ])
    await keeper.get(path);
}

async function heapAfter(server: Child, hour: number): Promise<HourOfMemory> {
  server.ask('collect');
  const [heapMb = NaN, arraysMb = NaN, residentMb = NaN] = (await server.answer('collected'))
    .split(' ')
    .map((bytes) => Number(bytes) / 1e6);
  return { hour, heapMb, arraysMb, residentMb };
}

export async function hoursOn({ folder, nucs, days, hours }: HoursOptions): Promise<HourOfMemory[]> {
  makeLiveFarm(folder, nucs, startMs, days);
  const server = startChild(program, [folder, String(startMs)], ['--expose-gc']);
  const [http = '', mqtt = ''] = (await server.answer('ready')).split(' ');
  const keeper = new SeasonKeeper();
  keeper.at(http);
  const device = await connectAsync(mqtt);
  const found: HourOfMemory[] = [];
  try {
    for (let minute = 1; minute <= hours * 60; minute += 1) {
      const nowMs = startMs + minute * minuteMs;
      server.ask(`clock ${String(nowMs)}`);
      await server.answer('set');
      await speak(device, nucs, nowMs);
      server.ask(`to ${String(nowMs)}`);
      await server.answer('at');
      if (minute % 60 !== 0) continue;
      await look(keeper, nowMs);
      found.push(await heapAfter(server, minute / 60));
    }
  } finally {
    await device.endAsync(true);
    await server.kill('SIGTERM');
  }
  return found;
}

/** Growth of the heap from the second hour on, by a line through the hours. */
export function growthOf(hours: readonly HourOfMemory[]): number {
  const { from, to } = lineThrough(hours.slice(1).map(({ heapMb, arraysMb }) => heapMb + arraysMb));
  return (to - from) / from;
}
