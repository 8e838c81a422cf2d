/**
 * Numbered readings at QoS 1 and full speed, while the server is killed with -9 at random moments and, where there is
 * one, the broker beside it is restarted. Afterwards every acknowledged reading has to be stored, exactly once.
 */
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { openStore } from '../../server/store/store.ts';
import { freePort } from '../support/free-port.ts';
import { startMosquitto, type RunningMosquitto } from '../ingest/support/mosquitto.ts';
import { startChild, type Child } from './child.ts';
import { startPublisher, type Publisher } from './publisher.ts';

export interface SoakOptions {
  readonly way: 'embedded' | 'mosquitto';
  readonly kills: number;
  readonly brokerRestarts: number;
  readonly seed: number;
  /** A folder of its own. */
  readonly folder: string;
  readonly onProgress?: (line: string) => void;
}

export interface SoakResult {
  readonly kills: number;
  readonly brokerRestarts: number;
  readonly sent: number;
  readonly acknowledged: number;
  readonly stored: number;
  /** Acknowledged and not stored. */
  readonly lost: number;
  /** Stored with another value than the one that was sent, or more than once. */
  readonly wrong: number;
  readonly conflicts: number;
  readonly seconds: number;
}

const program = fileURLToPath(new URL('./serve.ts', import.meta.url));
const sensors = 4;
const stepMs = 1000;
/** Before each kill and before the end. */
const atLeastAcknowledged = 150;
const valueOf = (index: number): number => (index % 40_000) / 100;

/** A small seeded generator (mulberry32), so that a run can be repeated as far as the machine allows. */
function dice(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

function check(file: string, publisher: Publisher, firstMs: number) {
  const store = openStore({ file, readonly: true });
  const found = new Map<number, number>();
  let wrong = 0;
  for (const { id, sensor } of store.channels.list()) {
    const toMs = firstMs + (publisher.sent() + 1) * stepMs;
    const span = {
      channelId: id,
      fromMs: firstMs,
      toMs,
      limit: Number.MAX_SAFE_INTEGER,
      includeSuspect: true,
    };
    const { atMs, value } = store.readings.query({ resolution: 'raw', ...span });
    atMs.forEach((at, position) => {
      const index = (at - firstMs) / stepMs;
      const right = Math.abs((value[position] ?? Number.NaN) - valueOf(index)) < 1e-6;
      if (found.has(index) || !right || sensor !== `scale-${String(index % sensors)}`) wrong += 1;
      found.set(index, at);
    });
  }
  const conflicts = store.readings.conflicts().length;
  store.close();
  const lost = [...publisher.acknowledged].filter((index) => !found.has(index)).length;
  return { stored: found.size, lost, wrong, conflicts };
}

export async function soak(options: SoakOptions): Promise<SoakResult> {
  const { way, kills, brokerRestarts, folder, onProgress } = options;
  const random = dice(options.seed);
  const file = join(folder, 'soak.db');
  const started = performance.now();
  const firstMs = Math.floor(Date.now() / stepMs) * stepMs - 60 * 86_400_000;
  const broker: RunningMosquitto | undefined = way === 'mosquitto' ? await startMosquitto() : undefined;
  const port = broker?.port ?? (await freePort());
  const args = broker ? [file, 'outside', broker.url] : [file, 'embedded', String(port)];
  const serve = async (): Promise<Child> => {
    const child = startChild(program, args);
    await child.answer('ready');
    return child;
  };
  let server = await serve();
  const publisher = startPublisher(port, (index) => ({
    topic: `welcomb/scale-${String(index % sensors)}/weight`,
    payload: JSON.stringify({ value: valueOf(index), time: firstMs + index * stepMs }),
  }));
  const restartEvery = brokerRestarts > 0 ? Math.max(1, Math.floor(kills / brokerRestarts)) : Infinity;
  let restarts = 0;
  for (let kill = 1; kill <= kills; kill += 1) {
    // A kill before anything was acknowledged tests nothing: on a busy machine the publisher is slow to come back.
    await acknowledgedMore(publisher);
    await pause(50 + 800 * random());
    await server.kill('SIGKILL');
    if (broker && restarts < brokerRestarts && kill % restartEvery === 0) {
      await broker.stop();
      await broker.start();
      restarts += 1;
    }
    server = await serve();
    onProgress?.(`${way}: killed ${String(kill)} times, ${String(publisher.acknowledged.size)} acknowledged`);
  }
  await acknowledgedMore(publisher);
  await publisher.finish();
  await untilQuiet(server, () => check(file, publisher, firstMs).lost === 0);
  await server.kill('SIGTERM');
  await broker?.remove();
  return {
    kills,
    brokerRestarts: restarts,
    sent: publisher.sent(),
    acknowledged: publisher.acknowledged.size,
    ...check(file, publisher, firstMs),
    seconds: (performance.now() - started) / 1000,
  };
}

/** Goes on after a minute too: the check at the end says what is missing. */
async function acknowledgedMore(publisher: Publisher): Promise<void> {
  const enough = publisher.acknowledged.size + atLeastAcknowledged;
  for (let tries = 0; publisher.acknowledged.size < enough && tries < 6000; tries += 1) await pause(10);
}

/**
 * A broker may still hold what it has acknowledged: waits until nothing new is stored for a second, and for twenty where
 * something acknowledged is missing.
 */
async function untilQuiet(server: Child, allStored: () => boolean): Promise<void> {
  let last = '';
  let same = 0;
  while (same < 10 || (same < 200 && !allStored())) {
    await pause(100);
    server.ask('count');
    const [count = ''] = (await server.answer('count')).split(' ');
    same = count === last ? same + 1 : 0;
    last = count;
  }
}
