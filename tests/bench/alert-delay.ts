/**
 * From the acknowledged publication of a reading to the alert that it raises on the event stream that the page listens
 * to, in the built server with every nuc live. Every nuc speaks once a minute, spread over it; now and then one turns
 * cold, and the rule's hold is set to nothing, so that what is left is the way through the program.
 * `npm run bench:alert-delay [-- nucs [seconds]]`; needs a build.
 */
import { get } from 'node:http';
import { createInterface } from 'node:readline';
import { pathToFileURL } from 'node:url';
import { connectAsync, type MqttClient } from 'mqtt';
import type { IncomingReading } from '../../server/store/port.ts';
import { dropFolder, newFolder, startServer, type RunningServer } from '../support/server-process.ts';
import { makeLiveFarm, readingsOf } from './live-farm.ts';
import { printRows, type BenchRow } from './store-table.ts';

const goalMs = 2000;
const coldEveryMs = 1000;
const wait = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

interface Heard {
  readonly atMs: number;
  readonly event: { readonly type: string; readonly headline?: string; readonly phase?: string };
}

/** Listens as a page does. */
async function listen(url: string): Promise<{ readonly heard: readonly Heard[]; stop(): void }> {
  const heard: Heard[] = [];
  const request = get(new URL('/api/v1/events', url));
  const response = await new Promise<Parameters<Parameters<typeof get>[2] & object>[0]>((resolve, reject) => {
    request.once('response', resolve);
    request.once('error', reject);
  });
  const lines = createInterface({ input: response });
  // It ends with the server, or with us.
  lines.on('error', () => undefined);
  lines.on('line', (line) => {
    if (!line.startsWith('data: ')) return;
    heard.push({ atMs: performance.now(), event: JSON.parse(line.slice(6)) as Heard['event'] });
  });
  return { heard, stop: () => void request.destroy() };
}

const publish = (device: MqttClient, readings: readonly IncomingReading[]): Promise<unknown> =>
  Promise.all(
    readings.map(({ sensor, quantity, probe, unit, value, observedAtMs }) =>
      device.publishAsync(
        ['welcomb', sensor, quantity, ...(probe === '' ? [] : [probe])].join('/'),
        JSON.stringify({ value, unit, time: new Date(observedAtMs).toISOString() }),
        { qos: 1 },
      ),
    ),
  );

/** Cold for half a minute: one cold reading alone would be taken for a spike. */
function coldReadings(nuc: number, nowMs: number): IncomingReading[] {
  return [30_000, 20_000, 10_000, 0].flatMap((agoMs) =>
    readingsOf(nuc, nowMs - agoMs)
      .filter(({ probe }) => probe === 'brood')
      .map((reading) => ({ ...reading, value: 28 })),
  );
}

async function withoutHold(server: RunningServer): Promise<void> {
  for (const field of ['holdMin', 'sealedDoseKh', 'openDoseKh']) {
    const limit = { scope: 'farm', ruleId: 'brood-chilling', field, value: 0 };
    await server.send('PUT', '/api/v1/settings/limits', limit);
  }
}

/** Milliseconds of each alert that came, and how many did not. */
async function delays(nucs: number, seconds: number): Promise<{ found: number[]; missing: number }> {
  const folder = newFolder();
  makeLiveFarm(folder, nucs, Date.now());
  const server = await startServer({ data: folder });
  const device = await connectAsync(server.mqtt);
  const stream = await listen(server.http);
  try {
    await withoutHold(server);
    // Everything is worked out once after a start: the first round is not counted.
    const roundS = Math.min(60, nucs);
    const beganMs = Date.now();
    const coldAtMs = new Map<number, number>();
    const busy: Promise<unknown>[] = [];
    for (let second = 0; second < roundS + seconds; second += 1) {
      const nowMs = Date.now();
      for (let nuc = second % 60; nuc < nucs; nuc += 60) {
        if (!coldAtMs.has(nuc)) busy.push(publish(device, readingsOf(nuc, nowMs)));
      }
      const cold = (second * 7 + 30) % nucs;
      if (second >= roundS && !coldAtMs.has(cold)) {
        busy.push(
          publish(device, coldReadings(cold, nowMs)).then(() => coldAtMs.set(cold, performance.now())),
        );
      }
      await wait(Math.max(0, beganMs + (second + 1) * coldEveryMs - Date.now()));
    }
    await Promise.all(busy);
    await wait(3 * goalMs);
    const found: number[] = [];
    for (const [nuc, publishedAtMs] of coldAtMs) {
      const alert = stream.heard.find(
        ({ event }) => event.type === 'alert' && event.headline?.startsWith(`nuc-${String(nuc)}:`),
      );
      if (alert) found.push(Math.max(0, alert.atMs - publishedAtMs));
    }
    return { found: found.sort((a, b) => a - b), missing: coldAtMs.size - found.length };
  } finally {
    stream.stop();
    await device.endAsync(true);
    await server.stop();
    dropFolder(folder);
  }
}

const shareOf = (sorted: readonly number[], share: number): number =>
  sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? NaN;

export async function alertDelayBench(nucs: number, seconds: number): Promise<BenchRow[]> {
  const { found, missing } = await delays(nucs, seconds);
  const p99 = shareOf(found, 0.99);
  return [
    {
      what: `reading to alert on the event stream, ${String(nucs)} nucs live, p99 ms`,
      measured: `${p99.toFixed(0)} (p50 ${shareOf(found, 0.5).toFixed(0)}, ${String(found.length)} alerts, ${String(missing)} missing)`,
      baseline: 'the acknowledgement of the reading itself (0)',
      goal: `≤ ${String(goalMs)}`,
      reached: p99 <= goalMs && missing === 0,
    },
  ];
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  printRows(await alertDelayBench(Number(process.argv[2] ?? 500), Number(process.argv[3] ?? 100)));
}
