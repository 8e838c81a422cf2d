/**
 * The built server as a farm uses it: nucs live, rules running on what comes in, a page open that listens and asks for
 * a nuc whenever it hears of it. The nucs' own sensors hand over what they kept, as fast as it is taken.
 */
import { existsSync } from 'node:fs';
import { get } from 'node:http';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import type { ResponseOf } from '../../server/contract/index.ts';
import { dropFolder, newFolder, startServer, type RunningServer } from '../support/server-process.ts';
import { makeLiveFarm } from './live-farm.ts';
import { processorUs } from './processor-time.ts';
import { startPublishers } from './publishers.ts';

export const nucsLive = 20;
export const isBuilt = (): boolean => existsSync(join(import.meta.dirname, '../../dist/server/main.js'));

/** At most so often, as a page does. */
const pageEveryMs = 1000;

function openPage(server: RunningServer): { readonly heard: () => number; close(): void } {
  let heard = 0;
  let askedMs = 0;
  const request = get(new URL('/api/v1/events', server.http), (response) => {
    const lines = createInterface({ input: response });
    lines.on('error', () => undefined);
    lines.on('line', (line) => {
      if (!line.startsWith('data: ')) return;
      heard += 1;
      const nowMs = performance.now();
      if (!line.includes('"nuc"') || nowMs - askedMs < pageEveryMs) return;
      askedMs = nowMs;
      void server.get('/api/v1/nucs/nuc-0').catch(() => undefined);
    });
  });
  request.on('error', () => undefined);
  return { heard: () => heard, close: () => void request.destroy() };
}

export interface LiveRate {
  readonly perSecond: number;
  readonly processorUs: number;
}

/** @param warmUps readings of sensors that stand nowhere, sent first and not counted */
export async function liveRate(publishers: number, readings: number, warmUps: number): Promise<LiveRate> {
  const data = newFolder();
  makeLiveFarm(data, nucsLive, Date.now());
  const server = await startServer({ data });
  const page = openPage(server);
  try {
    // Live: each nuc has been looked at since the start.
    while ((await server.get<ResponseOf<'status'>>('/api/v1/status')).lastEvaluation === null)
      await new Promise((resolve) => setTimeout(resolve, 50));
    const { port } = new URL(server.mqtt);
    // A reading a second, the last one of now: one of the future would get the instant of its receipt.
    const send = (count: number, sensor: string) =>
      startPublishers({
        kind: 'mqttjs',
        port: Number(port),
        publishers,
        sensor,
        readings: count,
        laterMs: Date.now() - Math.floor(count / publishers) * 1000 - Date.parse('2026-01-01T00:00:00Z'),
      });
    const warming = send(warmUps, 'warm-');
    await warming.ready();
    await warming.go();
    const publishing = send(readings, 'node-');
    await publishing.ready();
    const pids = [server.process.pid ?? 0];
    const before = processorUs(pids);
    const started = performance.now();
    // Acknowledged is stored: there is nobody behind the server for whom it is to be passed on.
    await publishing.go();
    const seconds = (performance.now() - started) / 1000;
    const spentUs = processorUs(pids) - before;
    const { ingest } = await server.get<ResponseOf<'status'>>('/api/v1/status');
    if (ingest.stored < warmUps + readings)
      throw new Error(`${String(ingest.stored)} of ${String(warmUps + readings)} are stored`);
    if (page.heard() === 0) throw new Error('the page heard nothing: the rules did not run');
    return { perSecond: readings / seconds, processorUs: spentUs / readings };
  } finally {
    page.close();
    await server.stop();
    dropFolder(data);
  }
}
