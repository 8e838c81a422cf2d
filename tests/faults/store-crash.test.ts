/** The power goes at any moment: nothing that was durable is lost, nothing shows twice, roll-ups agree. */
import { copyFileSync, readFileSync, statSync, truncateSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { describe, expect, test } from 'vitest';
import { openStore } from '../../server/store/store.ts';
import { temporaryFolder } from '../store/support/temporary-store.ts';
import { compareNumbered, numberedBatch, numberedFromMs } from './store-support/numbered.ts';
import { runChild } from './store-support/run-child.ts';
import { full } from '../support/size.ts';
import { until } from '../support/until.ts';

const nothing = { quarantined: [], lastKnown: [] };
const day = 86_400_000;

describe('killed with -9', () => {
  test('at random moments while it commits and seals', async () => {
    const file = join(temporaryFolder(), 'welcomb.sqlite');
    let stored = 0;
    for (const afterMs of full ? [20, 45, 70, 110, 160, 240] : [70, 160]) {
      const child = runChild(file, 'pour', String(stored));
      await child.firstLine();
      await wait(afterMs);
      // A busy machine gets less done in that time: enough to be in the middle of it.
      await until(() => (child.lines().length >= 2 ? true : undefined));
      child.process.kill('SIGKILL');
      await child.ended;
      const acknowledged = Number(child.lines().at(-1) ?? stored);
      const store = openStore({ file });
      const found = compareNumbered(store);
      store.close();
      expect(found.wrong).toEqual([]);
      // A batch may have become durable just before it could be told.
      expect(found.count - acknowledged).toBeGreaterThanOrEqual(0);
      expect(found.count - acknowledged).toBeLessThanOrEqual(50);
      stored = found.count;
    }
    expect(stored).toBeGreaterThanOrEqual(full ? 600 : 200);
  }, 120_000);

  test.each(['before-blobs', 'after-blobs', 'after-rollup', 'after-hot-rows', 'after-commit'])(
    'in the middle of sealing: %s',
    async (step) => {
      const file = join(temporaryFolder(), 'welcomb.sqlite');
      const before = openStore({ file });
      before.ingest.commit({ readings: numberedBatch(0, 600), ...nothing });
      // Half of it sealed already, so that days are opened again.
      before.readings.seal({ endedBeforeMs: numberedFromMs + 3 * day });
      before.ingest.commit({ readings: numberedBatch(600, 600), ...nothing });
      before.close();

      const child = runChild(file, 'die-at', step);
      expect(await child.ended).toBe('SIGKILL');

      const store = openStore({ file });
      expect(compareNumbered(store)).toEqual({ count: 1200, wrong: [] });
      while (store.readings.seal({ endedBeforeMs: numberedFromMs + 7 * day }).more);
      expect(store.readings.hotCount()).toBe(0);
      expect(compareNumbered(store)).toEqual({ count: 1200, wrong: [] });
      store.close();
    },
    60_000,
  );
});

test('a torn copy of the write-ahead log gives the commits before the tear, whole', () => {
  const folder = temporaryFolder();
  const file = join(folder, 'welcomb.sqlite');
  const store = openStore({ file });
  for (let batch = 0; batch < 30; batch += 1) {
    store.ingest.commit({ readings: numberedBatch(batch * 20, 20), ...nothing });
    if (batch === 20) store.readings.seal({ endedBeforeMs: numberedFromMs + 2 * day });
  }
  const logBytes = statSync(`${file}-wal`).size;
  const counts: number[] = [];
  for (let cut = 1; cut <= 25; cut += 1) {
    const copy = join(folder, `torn-${String(cut)}.sqlite`);
    copyFileSync(file, copy);
    copyFileSync(`${file}-wal`, `${copy}-wal`);
    // In the middle of a page, as power leaves it; every other time with rubbish where the rest should be.
    const keep = Math.floor((logBytes * cut) / 26) + 1;
    truncateSync(`${copy}-wal`, keep);
    if (cut % 2 === 0) {
      writeFileSync(`${copy}-wal`, Buffer.concat([readFileSync(`${copy}-wal`), Buffer.alloc(5000, 0xa5)]));
    }
    const torn = openStore({ file: copy });
    const { count, wrong } = compareNumbered(torn);
    torn.close();
    expect(wrong).toEqual([]);
    expect(count % 20).toBe(0);
    counts.push(count);
  }
  store.close();
  expect(counts).toEqual([...counts].sort((a, b) => a - b));
  expect(new Set(counts).size).toBeGreaterThan(5);
});
