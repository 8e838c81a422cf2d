/** What settled hives at a place have in common reaches the drift of a nuc beside them, live and in the past alike. */
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { openStore, type Store } from '../../server/store/store.ts';
import type { IncomingReading } from '../../server/store/port.ts';
import { NucStateCache } from '../../server/watch/nuc-state-cache.ts';
import { nucContext } from '../../server/watch/nuc-context.ts';
import { pastNuc } from '../../server/watch/past-nuc.ts';
import { settledByHour } from '../../server/watch/settled-hives.ts';
import { dropFolder, newFolder } from '../support/server-process.ts';
import { storeSimulated } from '../support/simulated-history.ts';

const hourMs = 3_600_000;
const dayMs = 24 * hourMs;
const splitMs = Date.UTC(2026, 4, 12, 8);
const days = 3;
const endMs = splitMs + days * dayMs;
const choices = {
  chanceLimit: 0.05,
  unavailableDates: [],
  units: { temperature: 'C', weight: 'kg' },
} as const;

/** What all lose and gain in an hour, kg; each hive gathers a little besides. */
const commonKg = (hours: number): number => -0.002 * hours + 0.06 * Math.sin((hours * 2 * Math.PI) / 24);
const hives = [
  { id: 'hive-a', own: (h: number) => 0.0002 * h },
  { id: 'hive-b', own: (h: number) => -0.0002 * h },
  // The lid lay beside it for two hours, and it was given a box of 4 kg a day later.
  { id: 'hive-c', own: (h: number) => (h > 30 && h < 32 ? -2.5 : 0) + (h > 55 ? 4 : 0) },
  { id: 'hive-fed', own: (h: number) => (h > 0 ? 3 - 0.03 * h : 0) },
];

const folder = newFolder();
let store: Store;
beforeAll(() => {
  store = openStore({ file: join(folder, 'welcomb.db'), nowMs: () => endMs });
  const { siteId } = storeSimulated(store, 'nuc-1', { seed: 31, days, everyMinutes: 10, splitMs });
  const readings = hives.flatMap(({ id, own }) =>
    Array.from({ length: (days + 3) * 144 }, (_, i): IncomingReading => {
      const atMs = splitMs - 3 * dayMs + i * 600_000;
      const hours = (atMs - splitMs) / hourMs;
      const value = Math.round(1000 * (32 + commonKg(hours) + own(hours))) / 1000;
      return {
        sensor: `scale-${id}`,
        quantity: 'weight',
        probe: '',
        unit: 'kg',
        value,
        observedAtMs: atMs,
        receivedAtMs: atMs,
      };
    }),
  );
  store.ingest.commit({
    readings: readings.filter(({ observedAtMs }) => observedAtMs <= endMs),
    quarantined: [],
    lastKnown: [],
  });
  for (const { id } of hives) {
    const box = { kind: 'wood' };
    store.places.putHive({ id, siteId, role: 'parent', name: id, box, createdAtMs: splitMs - 9 * dayMs });
    const channel = store.channels.list().find(({ sensor }) => sensor === `scale-${id}`);
    store.places.assign({
      channelId: channel!.id,
      owner: { hiveId: id },
      position: 'scale',
      fromMs: splitMs - 9 * dayMs,
      toMs: null,
    });
  }
  store.hiveVisits.add({
    id: 'feed',
    hiveId: 'hive-fed',
    kind: 'fed',
    happenedAtMs: splitMs,
    writtenAtMs: splitMs,
  });
}, 60_000);
afterAll(() => {
  store.close();
  dropFolder(folder);
});

it('is the middle change of the hives that were left alone, whatever was done to one of them', () => {
  const site = nucContext(store, store.places.hive('nuc-1')!).site;
  const series = settledByHour(store)(site, splitMs, endMs)!;
  const since = series.atMs.findIndex((at) => at >= splitMs);
  const hours = (i: number): number => ((series.atMs[i] as number) - splitMs) / hourMs;
  expect(series.atMs.at(-1)).toBe(endMs - hourMs / 2);
  for (let i = since; i < series.atMs.length; i++) {
    const told = (series.value[i] as number) - (series.value[since] as number);
    const truth = 1000 * (commonKg(hours(i)) - commonKg(hours(since)));
    // What the hives do by themselves is some 14 g by the end of three days.
    expect(Math.abs(told - truth), `after ${String(hours(i))} h`).toBeLessThan(20);
  }
});

it('leaves out a split that was withdrawn from the log', () => {
  const { site } = nucContext(store, store.places.hive('nuc-1')!);
  const before = settledByHour(store)(site, splitMs, endMs);
  const box = { kind: 'wood' };
  const nuc = {
    id: 'nuc-2',
    siteId: site.id,
    role: 'nuc',
    name: 'Nuc 2',
    box,
    createdAtMs: splitMs,
  } as const;
  store.places.putHive({ ...nuc, parentHiveId: 'hive-a' });
  const introductionId = 'introduction-2';
  store.introductions.open({
    id: introductionId,
    nucId: nuc.id,
    startingPoint: 'planned-split',
    method: 'candy-cage',
    setup: {},
    openedAtMs: splitMs,
  });
  const written = { introductionId, happenedAtMs: splitMs, writtenAtMs: splitMs };
  const fact = {
    kind: 'split-made',
    framesOfBees: 3,
    framesOfSealedBrood: 1,
    framesOfOpenBrood: 1,
    framesOfStores: 1,
    oldQueen: 'seen-in-parent',
    cellsAlreadyThere: 'none',
  } as const;
  store.introductions.append([
    { ...written, id: 'split-of-nuc-2', type: 'fact', fact },
    { ...written, id: 'split-of-nuc-2-withdrawn', type: 'correction', corrects: 'split-of-nuc-2' },
  ]);
  expect(store.introductions.log(introductionId)).toHaveLength(2);
  expect(settledByHour(store)(site, splitMs, endMs)).toEqual(before);
});

it('says nothing where fewer than three hives are settled', () => {
  const site = nucContext(store, store.places.hive('nuc-1')!).site;
  store.hiveVisits.add({
    id: 'moved',
    hiveId: 'hive-a',
    kind: 'moved',
    happenedAtMs: splitMs,
    writtenAtMs: splitMs,
  });
  const after = settledByHour(store)(site, splitMs, endMs)?.atMs.filter((at) => at > splitMs + hourMs);
  store.hiveVisits.withdraw('moved', splitMs);
  expect(after ?? []).toHaveLength(0);
});

it('reaches the drift, which is the same live and looking back', () => {
  const nuc = store.places.hive('nuc-1')!;
  const nowMs = splitMs + 2.5 * dayMs;
  const past = pastNuc(store, nucContext(store, nuc), {
    fromMs: splitMs,
    toMs: endMs,
    choices,
    forecastAt: () => undefined,
  });
  const live = new NucStateCache(store, 'nuc-1');
  const [then, now] = [past(nowMs), live.analysis(nowMs, choices, undefined)].map(
    (found) => found?.signals?.drift,
  );
  expect(now?.massG.ok && now.massG.restsOn.join()).toContain('settled hives');
  expect({ ...then, curve: then?.curve }).toEqual({ ...now, curve: now?.curve });
}, 60_000);
