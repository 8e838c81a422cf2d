/** What is put into the store comes back whole. A new field does not compile until it stands here with a value. */
import { expect, test } from 'vitest';
import type { HiveVisit } from '../../server/store/field-log/hive-visits.ts';
import type { Introduction } from '../../server/store/field-log/introductions.ts';
import type { Arrival, Queen } from '../../server/store/field-log/queens.ts';
import type { Hive } from '../../server/store/places/hives.ts';
import type { Site } from '../../server/store/places/sites.ts';
import { day, hour, may1 } from './support/made-up.ts';
import { temporaryStore } from './support/temporary-store.ts';

const site: Required<Site> = {
  id: 's',
  name: 'Meadow',
  timeZone: 'America/St_Johns',
  latDeg: 47.5,
  lonDeg: -52.7,
  note: 'Shut the gate.',
};
const parent: Hive = { id: 'p', siteId: 's', role: 'parent', name: 'Colony 1', box: {}, createdAtMs: may1 };
const nuc: Required<Hive> = {
  id: 'n',
  siteId: 's',
  role: 'nuc',
  name: 'Nuc 1',
  parentHiveId: 'p',
  batch: 'May',
  box: { kind: 'wood', emptyKg: 6 },
  note: 'Leans to the south.',
  createdAtMs: may1,
  retiredAtMs: may1 + day,
};
const arrival: Required<Arrival> = {
  id: 'a',
  name: 'First box',
  source: 'Breeder in the hills',
  expected: '2026-05-20',
  queens: 12,
  state: 'arrived',
  arrived: '2026-05-21',
  dead: 1,
  note: 'Came by car.',
};
const queen: Required<Queen> = {
  id: 'q',
  arrivalId: 'a',
  source: 'hills',
  line: 'dark',
  note: 'Yellow dot.',
};
const introduction: Required<Introduction> = {
  id: 'introduction-1',
  nucId: 'n',
  startingPoint: 'planned-split',
  method: 'candy-cage',
  queenId: 'q',
  arrivalId: 'a',
  setup: { plannedSplit: '2026-05-02' },
  openedAtMs: may1,
  closedAtMs: may1 + day,
};
const visit: Required<HiveVisit> = {
  id: 'v',
  hiveId: 'p',
  happenedAtMs: may1,
  writtenAtMs: may1 + hour,
  kind: 'fed',
  by: 'Keeper',
  note: 'Two litres.',
  withdrawnAtMs: may1 + day,
};

test('every field of a site, hive, delivery, queen, introduction and visit comes back', () => {
  const { places, queens, introductions, hiveVisits } = temporaryStore();
  places.putSite(site);
  places.putHive(parent);
  places.putHive(nuc);
  queens.putArrival(arrival);
  queens.putQueen(queen);
  introductions.open(introduction);
  hiveVisits.add(visit);
  expect(places.site('s')).toEqual(site);
  expect(places.hive('n')).toEqual(nuc);
  expect(queens.arrival('a')).toEqual({ ...arrival, assigned: 1 });
  expect(queens.queen('q')).toEqual(queen);
  expect(introductions.get('introduction-1')).toEqual(introduction);
  expect(hiveVisits.get('v')).toEqual(visit);
});

test('so does every field that is changed afterwards', () => {
  const { places, queens } = temporaryStore();
  places.putSite({ id: 's', name: '', timeZone: 'UTC', latDeg: 0, lonDeg: 0 });
  places.putSite(site);
  places.putHive(parent);
  places.putHive({ id: 'n', siteId: 's', role: 'parent', name: '', box: {}, createdAtMs: may1 - day });
  places.putHive(nuc);
  queens.putArrival({
    id: 'a',
    name: '',
    source: '',
    expected: '2026-05-01',
    queens: 1,
    state: 'ordered',
    dead: 0,
  });
  queens.putArrival(arrival);
  queens.putQueen({ id: 'q', source: '', line: '' });
  queens.putQueen(queen);
  expect(places.site('s')).toEqual(site);
  expect(places.hive('n')).toEqual(nuc);
  expect(queens.arrival('a')).toEqual({ ...arrival, assigned: 0 });
  expect(queens.queen('q')).toEqual(queen);
});
