/** Whose past is looked at again once the set-up changed: a look back takes seconds, and urgent findings wait for it. */
import { expect, it, onTestFinished } from 'vitest';
import type { Owner } from '../../server/store/places/assignments.ts';
import { clockedFarm, foundNucs, minuteMs, siteId } from './support/clocked-farm.ts';

const nowMs = Date.UTC(2026, 5, 1, 9);
const all = ['nuc-1', 'nuc-2', 'nuc-3'];

it.each<readonly [what: string, places: readonly Owner[] | undefined, looked: readonly string[]]>([
  ['of one nuc is looked at in that nuc alone', [{ hiveId: 'nuc-2' }], ['nuc-2']],
  ['of two nucs is looked at in both', [{ hiveId: 'nuc-2' }, { hiveId: 'nuc-1' }], ['nuc-1', 'nuc-2']],
  ['of a site is looked at in every nuc that stands there', [{ siteId }], all],
  ['of another site is looked at in none', [{ siteId: 'valley' }], []],
  ['of the farm is looked at in every nuc', undefined, all],
])('what changed %s', async (_what, places, looked) => {
  const farm = await clockedFarm(nowMs);
  onTestFinished(() => farm.close());
  foundNucs(farm, all.length, places);
  const { watch } = farm.farm;
  while (watch.work(nowMs + minuteMs));
  const found = [...watch.book.alerts.values()].map(({ subject }) => subject.id);
  expect([...new Set(found)].sort()).toEqual(looked);
});
