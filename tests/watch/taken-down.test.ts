/** What is kept of a nuc in memory goes with it. */
import { join } from 'node:path';
import { expect, it, onTestFinished } from 'vitest';
import { openStore } from '../../server/store/store.ts';
import { FarmState } from '../../server/watch/farm-state.ts';
import { makeLiveFarm } from '../bench/live-farm.ts';
import { dropFolder, newFolder } from '../support/server-process.ts';
import { clockedFarm, foundNucs } from './support/clocked-farm.ts';

const nowMs = Date.UTC(2026, 5, 1, 9);
const minuteMs = 60_000;

function farmOfTwo() {
  const folder = newFolder();
  makeLiveFarm(folder, 2, nowMs, 3);
  const store = openStore({ file: join(folder, 'welcomb.db'), nowMs: () => nowMs });
  onTestFinished(() => {
    store.close();
    dropFolder(folder);
  });
  const units = { temperature: 'C', weight: 'kg' } as const;
  const choices = () => ({ chanceLimit: 0.05, unavailableDates: [], units });
  return { store, farm: new FarmState({ store, choices, forecast: () => undefined }) };
}

it('lets go of a nuc that was taken down, and keeps the others', () => {
  const { store, farm } = farmOfTwo();
  farm.allInputs(nowMs);
  const [gone, stays] = ['nuc-0', 'nuc-1'].map((id) => farm.nuc(id));
  const hive = store.places.hive('nuc-0');
  if (!hive) throw new Error('nuc-0 is not in the store');
  store.places.putHive({ ...hive, retiredAtMs: nowMs });
  farm.forgetPositions();
  farm.allInputs(nowMs + minuteMs);
  expect(farm.nuc('nuc-1')).toBe(stays);
  expect(farm.nuc('nuc-0')).not.toBe(gone);
});

it('says of an end what it said before its days were let go', () => {
  const { farm } = farmOfTwo();
  const endMs = nowMs - 24 * 60 * minuteMs;
  const first = farm.analysisAtEnd('nuc-0', endMs);
  expect(first?.signals?.nightWeights.length).toBeGreaterThan(0);
  expect(farm.analysisAtEnd('nuc-0', endMs)).toBe(first);
  farm.nucReadingsCame('nuc-0', endMs - minuteMs);
  const anew = farm.analysisAtEnd('nuc-0', endMs);
  expect(anew).not.toBe(first);
  expect(anew?.signals?.nightWeights).toEqual(first?.signals?.nightWeights);
});

it('keeps an end for an hour, and reads it again after that', () => {
  const { farm } = farmOfTwo();
  const endMs = nowMs - 24 * 60 * minuteMs;
  farm.allInputs(nowMs);
  const first = farm.analysisAtEnd('nuc-0', endMs);
  farm.allInputs(nowMs + 59 * minuteMs);
  expect(farm.analysisAtEnd('nuc-0', endMs)).toBe(first);
  farm.allInputs(nowMs + 60 * minuteMs);
  const anew = farm.analysisAtEnd('nuc-0', endMs);
  expect(anew).not.toBe(first);
  expect(anew?.signals).toEqual(first?.signals);
});

it('is told nothing of, where its past was to be looked at when it was taken down', async () => {
  const farm = await clockedFarm(nowMs);
  onTestFinished(() => farm.close());
  const { store } = farm;
  const { watch } = farm.farm;
  const [first = '', second = ''] = foundNucs(farm, 2);
  for (const nucId of [first, second])
    store.introductions.open({
      id: `of-${nucId}`,
      nucId,
      startingPoint: 'planned-split',
      method: 'candy-cage',
      openedAtMs: nowMs,
      setup: { plannedSplit: new Date(nowMs - 60 * minuteMs).toISOString() },
    });
  watch.setupChanged(nowMs);
  const hive = store.places.hive(first);
  if (!hive) throw new Error('it is not in the store');
  store.places.putHive({ ...hive, retiredAtMs: nowMs });
  watch.setupChanged(nowMs);
  for (let i = 0; i < 20; i += 1) watch.work(nowMs + minuteMs);
  const told = [...watch.book.alerts.values()].map(({ subject }) => subject.id);
  expect(new Set(told)).toEqual(new Set([second]));
});
