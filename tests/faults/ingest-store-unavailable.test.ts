/**
 * The disk full, the file read-only, the database locked by another program: no acknowledgement, one change of the
 * status each way, recovery by itself, nothing lost; through the real broker into the real store.
 */
import { spawnSync } from 'node:child_process';
import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import mqtt from 'mqtt';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { startIngest, type Ingest } from '../../ingest/ingest.ts';
import { openStore, StoreUnavailable, type Store } from '../../server/store/store.ts';
import { until } from '../ingest/support/until.ts';
import { dropFolder, newFolder } from '../support/server-process.ts';

const firstMs = Math.floor(Date.now() / 1000) * 1000 - 86_400_000;
const undo: (() => unknown)[] = [];
let folder = '';
beforeEach(() => {
  folder = newFolder();
});
afterEach(async () => {
  for (const step of undo.splice(0).reverse()) await step();
  dropFolder(folder);
});

interface Running {
  readonly store: Store;
  readonly ingest: Ingest;
  readonly errors: string[];
  publish(index: number): Promise<unknown>;
  stored(): number;
}

async function start(
  file: string,
  wrap: (store: Store) => Store['ingest'] = (store) => store.ingest,
): Promise<Running> {
  const store = openStore({ file });
  const errors: string[] = [];
  const note = (): undefined => undefined;
  const ingest = await startIngest({
    port: wrap(store),
    broker: {
      kind: 'embedded',
      host: '127.0.0.1',
      port: 0,
      devices: { devices: [], isPassword: () => Promise.resolve(false) },
      allowAnonymous: true,
    },
    clock: Date.now,
    logger: { info: note, warn: note, error: (_details, sentence) => errors.push(sentence) },
    limits: { retryMs: 50, maxRetryMs: 100 },
  });
  const client = await mqtt.connectAsync(`mqtt://127.0.0.1:${String(ingest.address.port)}`);
  undo.push(
    () => {
      store.close();
    },
    () => ingest.stop(),
    () => client.endAsync(true),
  );
  return {
    store,
    ingest,
    errors,
    publish: (index) =>
      client.publishAsync(
        'welcomb/scale-1/weight',
        JSON.stringify({ value: 10 + (index % 100) / 100, time: firstMs + index * 1000 }),
        { qos: 1 },
      ),
    stored() {
      const [channel] = store.channels.list();
      if (!channel) return 0;
      const span = {
        channelId: channel.id,
        fromMs: firstMs,
        toMs: Date.now(),
        limit: 1e9,
        includeSuspect: true,
      };
      return store.readings.query({ resolution: 'raw', ...span }).atMs.length;
    },
  };
}

/** Publishes `count` more, expects silence while `broken`, then the acknowledgement of all after `mend`. */
async function expectRecovery(
  running: Running,
  from: number,
  count: number,
  mend: () => void,
  reason: RegExp,
) {
  const before = running.stored();
  let acknowledged = 0;
  const published = Array.from({ length: count }, (_, at) =>
    running.publish(from + at).then(() => {
      acknowledged += 1;
    }),
  );
  await until(() => running.ingest.status().store.state === 'unavailable');
  await new Promise((resolve) => setTimeout(resolve, 300));
  const { store } = running.ingest.status();
  expect(store.detail).toMatch(reason);
  expect(running.errors).toEqual([store.detail]);
  const unacknowledged = count - acknowledged;
  expect(unacknowledged).toBeGreaterThan(0);
  mend();
  await Promise.all(published);
  expect(running.ingest.status().store.state).toBe('ok');
  expect(running.stored()).toBe(before + count);
}

test('locked by another program', async () => {
  const file = join(folder, 'welcomb.db');
  const running = await start(file);
  await running.publish(0);
  const other = new Database(file);
  other.exec('BEGIN IMMEDIATE');
  await expectRecovery(
    running,
    1,
    20,
    () => {
      other.exec('ROLLBACK');
      other.close();
    },
    /Another program holds .* locked/,
  );
});

test('read-only', async () => {
  const running = await start(join(folder, 'welcomb.db'), (store) => ({
    ofSensors: store.ingest.ofSensors,
    counters: () => store.ingest.counters(),
    commit(batch) {
      // Root may write anything, and tests may run as root: the refusal is what the store says of such a file.
      if (readOnly)
        throw new StoreUnavailable('read-only', 'welcomb.db can’t be written: mounted read-only.');
      return store.ingest.commit(batch);
    },
  }));
  let readOnly = false;
  await running.publish(0);
  readOnly = true;
  await expectRecovery(running, 1, 20, () => (readOnly = false), /can’t be written/);
});

/** Writes until not a byte fits. */
function fill(file: string): void {
  for (let bytes = 65_536; bytes >= 1; bytes = Math.floor(bytes / 2)) {
    try {
      for (;;) writeFileSync(file, Buffer.alloc(bytes), { flag: 'a' });
    } catch {
      // That much no longer fits; try with less.
    }
  }
}

const small = newFolder();
const mounted = spawnSync('mount', ['-t', 'tmpfs', '-o', 'size=2m', 'tmpfs', small]).status === 0;
if (!mounted) {
  dropFolder(small);
  console.warn('Skipped: this user may not mount a small disk, so the full one was not tried.');
}

describe.skipIf(!mounted)('a disk of 2 MB', () => {
  test('full', { timeout: 60_000 }, async () => {
    undo.push(() => {
      spawnSync('umount', ['-l', small]);
      dropFolder(small);
    });
    const running = await start(join(small, 'welcomb.db'));
    await running.publish(0);
    const ballast = join(small, 'ballast');
    fill(ballast);
    await expectRecovery(
      running,
      1,
      3000,
      () => rmSync(ballast),
      /The disk that holds .* is full|reports an error/,
    );
  });
});
