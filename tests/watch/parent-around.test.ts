/** The parent colony's scale around the move of its nuc, read from the store. The weights are ours, and known. */
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { IncomingReading } from '../../server/store/port.ts';
import { gainSince } from '../../server/views/nuc/parent-scale.ts';
import { parentAround, parentByHour } from '../../server/watch/parent-around.ts';
import { dropFolder, newFolder } from '../support/server-process.ts';
import { openStore, type Store } from '../../server/store/store.ts';

const minuteMs = 60_000;
const hourMs = 60 * minuteMs;
const dayMs = 24 * hourMs;
/** Eleven o'clock at the site. */
const moveMs = Date.UTC(2026, 4, 12, 9);
const newestMs = moveMs + 4 * dayMs;
const cameHomeG = 420;

/** Frames and bees of 4 kg are taken out at the move; 420 g of foragers come home over two days. */
function weightKg(atMs: number): number {
  const hours = (atMs - moveMs) / hourMs;
  const swing = 0.08 * Math.cos(((hours + 1) * 2 * Math.PI) / 24);
  const home = (cameHomeG / 1000) * Math.min(1, Math.max(0, hours / 48));
  return Math.round(1000 * (31 + swing - (hours > 0 ? 4 : 0) + home)) / 1000;
}

const folder = newFolder();
let store: Store;
beforeAll(() => {
  store = openStore({ file: join(folder, 'welcomb.db'), nowMs: () => newestMs });
  const readings = Array.from({ length: (7 * dayMs) / (5 * minuteMs) }, (_, i): IncomingReading => {
    const atMs = moveMs - 3 * dayMs + i * 5 * minuteMs;
    const value = weightKg(atMs);
    return {
      sensor: 'scale-3',
      quantity: 'weight',
      probe: '',
      unit: 'kg',
      value,
      observedAtMs: atMs,
      receivedAtMs: atMs,
    };
  });
  store.ingest.commit({ readings, quarantined: [], lastKnown: [] });
  const createdAtMs = moveMs - 9 * dayMs;
  store.places.putSite({
    id: 'hill',
    name: 'Hill',
    latDeg: 50.25,
    lonDeg: 10.5,
    timeZone: 'Europe/Berlin',
  });
  for (const [id, name] of [
    ['hive-3', 'Hive 3'],
    ['hive-4', 'Hive 4'],
  ] as const)
    store.places.putHive({ id, siteId: 'hill', role: 'parent', name, box: { kind: 'wood' }, createdAtMs });
  store.places.assign({
    channelId: store.channels.list()[0]!.id,
    owner: { hiveId: 'hive-3' },
    position: 'scale',
    fromMs: createdAtMs,
    toMs: null,
  });
});
afterAll(() => {
  store.close();
  dropFolder(folder);
});

it('shows what came home since, to thirty grams', () => {
  const found = parentAround(store, 'hive-3', moveMs, newestMs)!;
  expect(found.name).toBe('Hive 3');
  const gainG = gainSince(found.signals, moveMs)!;
  expect(Math.abs(gainG - cameHomeG)).toBeLessThan(30);
});

it.each([
  { name: 'a colony without a scale', id: 'hive-4', nowMs: newestMs },
  { name: 'one that is not on this farm', id: 'hive-5', nowMs: newestMs },
  { name: 'a move three weeks ago', id: 'hive-3', nowMs: moveMs + 21 * dayMs },
])('nothing is read of $name', ({ id, nowMs }) => {
  expect(parentAround(store, id, moveMs, nowMs)).toBeUndefined();
});

it('is read anew with each full hour, and for each move by itself', () => {
  const parentAt = parentByHour(store);
  const hourStartMs = Math.floor(newestMs / hourMs) * hourMs;
  const found = parentAt('hive-3', moveMs, hourStartMs);
  expect(parentAt('hive-3', moveMs, hourStartMs + hourMs - 1)).toBe(found);
  expect(parentAt('hive-3', moveMs - dayMs, hourStartMs)?.moveMs).toBe(moveMs - dayMs);
  const later = parentAt('hive-3', moveMs, hourStartMs + hourMs);
  expect(later).not.toBe(found);
  expect(later?.moveMs).toBe(moveMs);
});
