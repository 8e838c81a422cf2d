/** A farm with many alerts that are over: none is missing from its nuc, and a page of all nucs reads them once. */
import { join } from 'node:path';
import { expect, it, onTestFinished, vi } from 'vitest';
import { createFarm } from '../../server/service/farm-service.ts';
import { openStore, type Store } from '../../server/store/store.ts';
import { createEventsHub } from '../../server/views/events-hub.ts';
import { makeLiveFarm } from '../bench/live-farm.ts';
import { dropFolder, newFolder } from '../support/server-process.ts';

const nowMs = Date.UTC(2026, 5, 1, 9);
const hourMs = 3_600_000;
const dayMs = 24 * hourMs;
const ruleId = 'brood-chilling';
const message = { todo: 'Warm it.', seen: 'It was cold.', why: 'Brood dies.', howSure: 'Sure.', facts: [] };

/** An alert about a nuc that began an hour before it was over. */
function saveEnded(store: Store, nucId: string, endedAtMs: number): void {
  const subject = { kind: 'nuc' as const, id: nucId, name: nucId, nucId };
  const sinceMs = endedAtMs - hourMs;
  const id = `${ruleId}/nuc/${nucId}/${String(sinceMs)}`;
  const episode = {
    id,
    sinceMs,
    raisedAtMs: sinceMs,
    urgency: 'now',
    message,
    seen: null,
    putOffUntilMs: null,
    marks: [],
  };
  store.alerts.save({
    id: `ended ${id}`,
    ruleId,
    subject,
    phase: 'ended',
    urgency: 'now',
    open: false,
    changedAtMs: endedAtMs,
    state: { ruleId, subject, episode, endedAtMs },
    message,
  });
}

/** Two nucs: of one over a thousand alerts are over, of the other a single one, before all of those. */
function farmOfTwo() {
  const folder = newFolder();
  makeLiveFarm(folder, 2, nowMs, 6);
  const store = openStore({ file: join(folder, 'welcomb.db'), nowMs: () => nowMs });
  saveEnded(store, 'nuc-1', nowMs - 4 * dayMs);
  for (let i = 1; i <= 1010; i += 1) saveEnded(store, 'nuc-0', nowMs - 3 * dayMs + i * 60_000);
  const farm = createFarm({
    store,
    events: createEventsHub(),
    clock: () => nowMs,
    startedAtMs: nowMs,
    onError: (error) => {
      throw error;
    },
  });
  onTestFinished(() => {
    farm.stop();
    store.close();
    dropFolder(folder);
  });
  return { store, farm };
}

it('shows each on the rail of its nuc, and reads them once for all nucs', async () => {
  const { store, farm } = farmOfTwo();
  farm.watch.tick(nowMs);
  const read = vi.spyOn(store.alerts, 'list');
  const nucs = await farm.views.nucs(nowMs);
  expect(nucs.map(({ hive, rail }) => [hive.id, rail?.alerts.length])).toEqual([
    ['nuc-0', 1010],
    ['nuc-1', 1],
  ]);
  expect(read).toHaveBeenCalledTimes(1);
  expect((await farm.views.nuc('nuc-1', nowMs))?.rail?.alerts).toHaveLength(1);
});

it('lists those of a nuc that are over, however many of other nucs ended since', async () => {
  const { farm } = farmOfTwo();
  const listed = await farm.views.alerts({ state: 'all', nuc: 'nuc-1', limit: 100 }, nowMs);
  expect(listed.map((one) => [one.ruleId, one.phase])).toEqual([[ruleId, 'cleared']]);
});

it('compares a replay with all that were really raised', async () => {
  const { farm } = farmOfTwo();
  const span = {
    from: new Date(nowMs - 4 * dayMs - 2 * hourMs).toISOString(),
    to: new Date(nowMs - 4 * dayMs + hourMs).toISOString(),
  };
  const answer = await farm.views.replay({ nucId: 'nuc-1', ...span, limits: {} }, nowMs);
  expect(answer?.onlyReally.map((one) => one.ruleId)).toEqual([ruleId]);
});
