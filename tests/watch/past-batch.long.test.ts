/** How a nuc stood in its batch at a past hour is what the watch made of the analyses of that hour. */
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { AlertBook } from '../../server/watch/alert-book.ts';
import { batchNucOf, standings } from '../../server/watch/batches.ts';
import { nucContext } from '../../server/watch/nuc-context.ts';
import { PastBatches } from '../../server/watch/past-batch.ts';
import { pastNuc } from '../../server/watch/past-nuc.ts';
import { replayNuc } from '../../server/views/alerts/replay-nuc.ts';
import { openStore, type Store } from '../../server/store/store.ts';
import { dropFolder, newFolder } from '../support/server-process.ts';
import { storeSimulated } from '../support/simulated-history.ts';

const minuteMs = 60_000;
const hourMs = 60 * minuteMs;
const dayMs = 24 * hourMs;
const splitMs = Date.UTC(2026, 4, 12, 8);
const days = 6;
const fromMs = splitMs - 3 * hourMs;
const toMs = splitMs + days * dayMs;
const odd = 'nuc-6';

describe('a batch in the past', () => {
  const folder = newFolder();
  let store: Store;
  beforeAll(() => {
    store = openStore({ file: join(folder, 'welcomb.db'), nowMs: () => toMs });
    for (let k = 0; k < 7; k++) {
      const id = `nuc-${String(k)}`;
      storeSimulated(store, id, {
        seed: 200 + k,
        days,
        everyMinutes: 10,
        meanC: 20,
        // One was split the day after the others, and one has a probe that goes astray.
        splitMs: k === 5 ? splitMs + dayMs : splitMs,
        ...(id === odd && {
          faults: [{ place: 'brood', kind: 'drifting', fromDay: 1.5, perDay: -1.5 }],
        }),
      });
      const nuc = store.places.hive(id);
      if (nuc) store.places.putHive({ ...nuc, batch: 'May' });
    }
  }, 60_000);
  afterAll(() => {
    store.close();
    dropFolder(folder);
  });
  const nucs = () => store.places.listHives().filter(({ role }) => role === 'nuc');

  it('stands at every full hour as the watch would have said then', () => {
    const choices = {
      chanceLimit: 0.05,
      unavailableDates: [],
      units: { temperature: 'C', weight: 'kg' },
    } as const;
    const pasts = nucs().map((nuc) =>
      pastNuc(store, nucContext(store, nuc), {
        fromMs,
        toMs,
        choices,
        forecastAt: () => undefined,
        logAsWritten: true,
      }),
    );
    const batches = new PastBatches(store);
    const past = nucs().map((nuc) => ({ nuc, standingAt: batches.of(nuc, { fromMs, toMs }) }));
    let outside = 0;
    for (let nowMs = fromMs; nowMs <= toMs; nowMs += hourMs) {
      const live = standings(
        pasts.flatMap((one) => batchNucOf(one(nowMs)) ?? []),
        nowMs,
      );
      for (const { nuc, standingAt } of past) {
        expect(standingAt(nowMs + 17 * minuteMs), `${nuc.id} at ${new Date(nowMs).toISOString()}`).toEqual(
          live.get(nuc.id) ?? null,
        );
      }
      outside = Math.max(outside, ...(live.get(odd)?.measures ?? []).map(({ daysOutside }) => daysOutside));
    }
    expect(outside).toBeGreaterThanOrEqual(2);
  }, 60_000);

  it('has its odd one told in a replay, an hour after its second day outside was over', () => {
    const asked = { from: new Date(fromMs).toISOString(), to: new Date(toMs).toISOString(), limits: {} };
    const told = (nucId: string): string[] =>
      (replayNuc({ store, book: new AlertBook(store) }, { ...asked, nucId })?.items ?? [])
        .filter(({ ruleId }) => ruleId === 'unlike-its-batch')
        .map(({ raisedAt }) => raisedAt);
    const standingAt = new PastBatches(store).of(store.places.hive(odd)!, { fromMs, toMs });
    const isOdd = (atMs: number): boolean =>
      standingAt(atMs)?.measures.some(({ daysOutside }) => daysOutside >= 2) === true;
    let firstMs = fromMs;
    while (!isOdd(firstMs)) firstMs += hourMs;
    expect(told(odd)).toEqual([new Date(firstMs + hourMs).toISOString()]);
    expect(told('nuc-0')).toEqual([]);
  }, 60_000);
});
