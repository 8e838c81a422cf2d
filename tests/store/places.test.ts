/** Sites, hives, and which channel stands where: no channel in two places, errors name what is in the way. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { stretchesOf, type Assignment } from '../../server/store/places/assignments.ts';
import { StoreConflict, type Store } from '../../server/store/store.ts';
import { commit, day, hour, may1, reading } from './support/made-up.ts';
import { temporaryStore } from './support/temporary-store.ts';

const site = { id: 's', name: 'Meadow', timeZone: 'America/St_Johns', latDeg: 47.5, lonDeg: -52.7 };
const nuc = {
  id: 'n',
  siteId: 's',
  role: 'nuc',
  name: 'Nuc 1',
  box: { emptyKg: 6 },
  createdAtMs: may1,
} as const;

function withPlaces(): Store {
  const store = temporaryStore();
  store.places.putSite(site);
  store.places.putHive(nuc);
  commit(store, reading(may1, 20), reading(may1, 12, { quantity: 'weight', unit: 'kg' }));
  return store;
}

describe('sites and hives', () => {
  test('come back as they were put, and can be changed', () => {
    const { places } = withPlaces();
    expect(places.site('s')).toEqual(site);
    places.putSite({ ...site, name: 'Long meadow', note: 'gate code from the farmer' });
    expect(places.listSites()).toEqual([{ ...site, name: 'Long meadow', note: 'gate code from the farmer' }]);
    places.putHive({ ...nuc, batch: 'May', retiredAtMs: may1 + day });
    expect(places.hive('n')).toEqual({ ...nuc, batch: 'May', retiredAtMs: may1 + day });
    expect(places.listHives()).toEqual([]);
    expect(places.listHives({ retired: true, role: 'nuc' })).toHaveLength(1);
  });

  test('refuse what does not exist, and keep what is needed', () => {
    const { places } = withPlaces();
    expect(() => places.putHive({ ...nuc, id: 'm', siteId: 'nowhere' })).toThrow(/no such site/);
    expect(() => places.putHive({ ...nuc, id: 'm', parentHiveId: 'gone' })).toThrow(/no such hive/);
    expect(() => places.putHive({ ...nuc, parentHiveId: 'n' })).toThrow(/its own parent/);
    expect(() => places.removeSite('s')).toThrow(/move them first/);
    expect(places.hive('m')).toBeUndefined();
    places.putSite({ ...site, id: 'spare' });
    expect(places.removeSite('spare')).toBe(true);
  });
});

describe('an assignment', () => {
  const wanted = {
    channelId: 1,
    owner: { hiveId: 'n' },
    position: 'brood',
    fromMs: may1,
    toMs: null,
  } as const;

  test('of a channel that stands elsewhere is refused, naming where and since when', () => {
    const { places } = withPlaces();
    const { id } = places.assign(wanted);
    const again = { ...wanted, owner: { siteId: 's' }, position: 'outside', fromMs: may1 + day } as const;
    expect(() => places.assign(again)).toThrow(
      new StoreConflict(
        'Channel 1 stands at Nuc 1 (brood) from 2026-05-01T00:00:00.000Z until now: end that first.',
      ),
    );
    places.changeAssignment(id, { toMs: may1 + day });
    expect(places.assign(again)).toMatchObject({ owner: { siteId: 's' } });
    expect(places.assignmentsAt(may1 + day - 1).map(({ position }) => position)).toEqual(['brood']);
    expect(places.assignmentsAt(may1 + day).map(({ position }) => position)).toEqual(['outside']);
    expect(() => places.changeAssignment(id, { toMs: null })).toThrow(/stands at Meadow \(outside\)/);
    expect(places.assignment(id)?.toMs).toBe(may1 + day);
  });

  test('that is made twice is one', () => {
    const { places } = withPlaces();
    const first = places.assign(wanted);
    expect(places.assign(wanted)).toEqual(first);
    expect(places.listAssignments()).toEqual([first]);
  });

  test('that takes over ends what the channel and the place had, at once or not at all', () => {
    const store = withPlaces();
    const { places } = store;
    places.putHive({ ...nuc, id: 'm', name: 'Nuc 2' });
    commit(store, reading(may1, 21, { sensor: 'other' }));
    const moved = places.assign(wanted);
    const replaced = places.assign({ ...wanted, channelId: 3, owner: { hiveId: 'm' } });
    const over = { ...wanted, owner: { hiveId: 'm' }, fromMs: may1 + day } as const;
    const before = places.listAssignments();
    expect(() => places.takeOver({ ...over, owner: { hiveId: 'x' } })).toThrow(/no hive x/);
    expect(places.listAssignments()).toEqual(before);
    expect(() => places.takeOver({ ...over, fromMs: may1 })).toThrow(
      'What stands at Nuc 1 (brood) came there after that: choose a later day and time.',
    );
    expect(places.listAssignments()).toEqual(before);
    const made = places.takeOver(over);
    expect(places.assignment(moved.id)?.toMs).toBe(may1 + day);
    expect(places.assignment(replaced.id)?.toMs).toBe(may1 + day);
    expect(places.takeOver(over)).toEqual(made);
    expect(places.listAssignments()).toHaveLength(3);
  });

  test('of what does not exist, or that ends before it begins, is refused', () => {
    const { places } = withPlaces();
    expect(() => places.assign({ ...wanted, channelId: 77 })).toThrow(/no channel 77/);
    expect(() => places.assign({ ...wanted, owner: { hiveId: 'x' } })).toThrow(/no hive x/);
    expect(() => places.assign({ ...wanted, owner: { siteId: 'x' } })).toThrow(/no site x/);
    expect(() => places.assign({ ...wanted, toMs: may1 })).toThrow(/end after it begins/);
    expect(() => places.changeAssignment(5, { toMs: null })).toThrow(/no assignment 5/);
    expect(places.listAssignments()).toEqual([]);
  });

  test('two channels may stand at one place; its history goes by the one assigned last', () => {
    const { places } = withPlaces();
    const owner = { hiveId: 'n' };
    places.assign({ ...wanted, toMs: may1 + 9 * hour });
    places.assign({ ...wanted, channelId: 2, fromMs: may1 + 3 * hour, toMs: may1 + 5 * hour });
    expect(places.stretches(owner, 'brood', may1 - hour, may1 + day)).toEqual([
      { channelId: 1, fromMs: may1, toMs: may1 + 3 * hour },
      { channelId: 2, fromMs: may1 + 3 * hour, toMs: may1 + 5 * hour },
      { channelId: 1, fromMs: may1 + 5 * hour, toMs: may1 + 9 * hour },
    ]);
  });
});

test('stretches: at every instant the channel that was assigned last among those standing', () => {
  const assignment = fc
    .record({
      channelId: fc.integer({ min: 1, max: 4 }),
      fromMs: fc.nat(30),
      length: fc.option(fc.integer({ min: 1, max: 20 })),
    })
    .map(({ channelId, fromMs, length }): Assignment => ({
      id: 0,
      channelId,
      owner: { hiveId: 'n' },
      position: 'brood',
      fromMs,
      toMs: length === null ? null : fromMs + length,
    }));
  fc.assert(
    fc.property(
      fc.array(assignment, { maxLength: 6 }),
      fc.nat(20),
      fc.integer({ min: 1, max: 30 }),
      (some, from, length) => {
        const standing = some.toSorted((a, b) => a.fromMs - b.fromMs);
        const stretches = stretchesOf(standing, from, from + length);
        for (let at = from; at < from + length; at += 1) {
          const expected = standing.filter((one) => one.fromMs <= at && (one.toMs ?? Infinity) > at).at(-1);
          const got = stretches.filter((one) => one.fromMs <= at && one.toMs > at);
          expect(got.map(({ channelId }) => channelId)).toEqual(expected ? [expected.channelId] : []);
        }
      },
    ),
    { numRuns: 300, seed: 6 },
  );
});
