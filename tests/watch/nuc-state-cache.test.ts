/** What is kept of a nuc never hides what was logged after it was worked out. */
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { NucStateCache } from '../../server/watch/nuc-state-cache.ts';
import type { FarmChoices } from '../../server/watch/nuc-analysis.ts';
import { openStore, type Store } from '../../server/store/store.ts';
import { facts } from '../introduction/support/field-log.ts';
import { dropFolder, newFolder } from '../support/server-process.ts';

const startMs = Date.UTC(2027, 4, 1, 8);
const choices: FarmChoices = {
  chanceLimit: 0.05,
  unavailableDates: [],
  units: { temperature: 'C', weight: 'kg' },
};
let folder = '';
let store: Store;
beforeEach(() => {
  folder = newFolder();
  store = openStore({ file: join(folder, 'welcomb.db'), nowMs: () => startMs });
  store.places.putSite({ id: 's1', name: 'Lower field', timeZone: 'Europe/Berlin', latDeg: 50, lonDeg: 9 });
  const box = { kind: 'wood' };
  store.places.putHive({ id: 'n1', siteId: 's1', role: 'nuc', name: 'Nuc 1', box, createdAtMs: startMs });
  store.introductions.open({
    id: 'introduction-1',
    nucId: 'n1',
    startingPoint: 'planned-split',
    method: 'candy-cage',
    setup: {},
    openedAtMs: startMs,
  });
});
afterEach(() => {
  store.close();
  dropFolder(folder);
});

it('knows of a split, although a look back that began before it ends after it', () => {
  const desk = new NucStateCache(store, 'n1');
  const stageAt = (atMs: number, fresh = false) =>
    desk.analysis(atMs, choices, undefined, fresh)?.state?.stage;
  const planned = stageAt(startMs);
  const splitMs = startMs + 10_000;
  const entry = {
    id: 'split-of-nuc-1',
    introductionId: 'introduction-1',
    happenedAtMs: splitMs,
    writtenAtMs: splitMs,
  };
  store.introductions.append([{ type: 'fact', ...entry, fact: facts.split() }]);
  desk.logChanged();
  const split = stageAt(splitMs + 1_000);
  expect(split).not.toBe(planned);
  expect(stageAt(startMs + 5_000, true)).toBe(planned);
  expect(stageAt(splitMs + 2_000)).toBe(split);
});

it('knows of what a phone with a fast clock wrote, as soon as that time has come', () => {
  const desk = new NucStateCache(store, 'n1');
  const split = {
    id: 'split-of-nuc-1',
    introductionId: 'introduction-1',
    happenedAtMs: startMs + 20_000,
    writtenAtMs: startMs,
  };
  store.introductions.append([{ type: 'fact', ...split, fact: facts.split() }]);
  desk.logChanged();
  const [before, after] = [10_000, 30_000].map(
    (ms) => desk.analysis(startMs + ms, choices, undefined)?.state?.stage,
  );
  expect(before).toBe('planned');
  expect(after).not.toBe('planned');
});
