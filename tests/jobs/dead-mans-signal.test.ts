/** The heartbeat outside stops when the broker, the store or the disk fails, and with the server itself. */
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startIngest } from '../../ingest/ingest.ts';
import type { IngestStatus } from '../../ingest/status.ts';
import { housekeeping } from '../../server/jobs/housekeeping.ts';
import { whyNotWell } from '../../server/server-ingest.ts';
import { createFarm } from '../../server/service/farm-service.ts';
import { openStore, type Store } from '../../server/store/store.ts';
import { createEventsHub } from '../../server/views/events-hub.ts';
import { hookServer, type Hook } from '../notify/loopback.ts';
import { freePort } from '../support/free-port.ts';
import { dropFolder, newFolder } from '../support/server-process.ts';

const folder = newFolder();
const file = join(folder, 'welcomb.db');
const nowMs = Date.UTC(2031, 4, 10, 6);
const clock = (): number => nowMs;
const quiet = { info: () => undefined, warn: () => undefined, error: () => undefined };
let store: Store;
let hook: Hook;
beforeAll(async () => {
  store = openStore({ file, nowMs: clock });
  hook = await hookServer();
  store.settings.put('farm', { heartbeatUrl: hook.url }, { by: 'test' });
});
afterAll(async () => {
  store.close();
  await hook.close();
  dropFolder(folder);
});

const well: IngestStatus = {
  kind: 'embedded',
  connected: true,
  sinceMs: 0,
  detail: 'The embedded broker listens.',
  pending: 0,
  counters: {
    received: 0,
    acknowledged: 0,
    commits: 0,
    stored: 0,
    duplicates: 0,
    conflicts: 0,
    quarantined: 0,
    ignored: 0,
  },
  store: { state: 'ok', sinceMs: 0, detail: 'Readings are being stored.' },
};

/** The job as the server runs it; how many calls came, and what the page says of them. */
async function beats(status: IngestStatus, of: Store = store) {
  const farm = createFarm({
    store,
    events: createEventsHub(),
    clock,
    startedAtMs: nowMs,
    onError: quiet.error,
  });
  const before = hook.received.length;
  const jobs = housekeeping({
    store,
    timeZone: () => 'UTC',
    log: quiet,
    beat: () => farm.beat(whyNotWell({ status: () => status }, of, nowMs)),
  });
  await jobs.find(({ name }) => name === 'heartbeat')?.run(nowMs);
  farm.stop();
  return { calls: hook.received.length - before, ...farm.heartbeat() };
}

describe('the heartbeat', () => {
  it('is sent while all is well', async () => {
    expect(await beats(well)).toEqual({ calls: 1, sentAtMs: nowMs, problem: null });
  });

  it('is not sent while the broker is away', async () => {
    const port = await freePort();
    const ingest = await startIngest({
      port: store.ingest,
      clock,
      logger: quiet,
      broker: { kind: 'outside', url: `mqtt://127.0.0.1:${String(port)}`, clientId: 'welcomb' },
    });
    const away = await beats(ingest.status());
    await ingest.stop();
    expect(away).toMatchObject({ calls: 0, sentAtMs: null });
    expect(away.problem).toMatch(/broker is not there/);
  });

  it('is not sent while readings can’t be stored', async () => {
    const full = { state: 'unavailable', sinceMs: 0, detail: 'The disk is full.' } as const;
    expect(await beats({ ...well, store: full })).toMatchObject({
      calls: 0,
      problem: expect.stringMatching(/disk is full/) as unknown,
    });
  });

  it('is not sent where nothing can be written, also while no sensor sends', async () => {
    const frozen = openStore({ file, readonly: true, nowMs: clock });
    const found = await beats(well, frozen);
    frozen.close();
    expect(found.calls).toBe(0);
    expect(found.problem).not.toBeNull();
  });
});
