/** The small records: queens, alerts, settings, marks, mappings, people, devices, announcements. */
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { describe, expect, test } from 'vitest';
import type { StoredAlert } from '../../server/store/alerts.ts';
import { mostAnnouncements } from '../../server/store/channels/announcements.ts';
import type { Person } from '../../server/store/people.ts';
import { openStore, type Store } from '../../server/store/store.ts';
import { day, hour, may1, minute } from './support/made-up.ts';
import { temporaryFolder, temporaryStore } from './support/temporary-store.ts';

/** The same file opened anew: what is asked afterwards comes from the disk. */
function reopened(store: Store): Store {
  const file = store.file;
  store.close();
  return openStore({ file });
}

describe('queens', () => {
  const arrival = {
    id: 'a1',
    name: 'First box',
    source: 'Breeder in the hills',
    expected: '2026-05-20',
    queens: 12,
    state: 'ordered',
    dead: 0,
  } as const;

  test('arrivals come back by day, with how many introductions wait for them', () => {
    const store = temporaryStore();
    store.queens.putArrival(arrival);
    store.queens.putArrival({
      ...arrival,
      id: 'a0',
      expected: '2026-05-10',
      arrived: '2026-05-11',
      state: 'arrived',
      dead: 1,
    });
    store.places.putSite({ id: 's', name: 'Meadow', timeZone: 'Europe/Berlin', latDeg: 50, lonDeg: 9 });
    store.places.putHive({ id: 'n', siteId: 's', role: 'nuc', name: 'Nuc', box: {}, createdAtMs: may1 });
    store.introductions.open({
      id: 'intro-aaaa',
      nucId: 'n',
      startingPoint: 'planned-split',
      method: 'candy-cage',
      arrivalId: 'a1',
      setup: {},
      openedAtMs: may1,
    });
    expect(store.queens.arrivals()).toEqual([
      {
        ...arrival,
        id: 'a0',
        expected: '2026-05-10',
        arrived: '2026-05-11',
        state: 'arrived',
        dead: 1,
        assigned: 0,
      },
      { ...arrival, assigned: 1 },
    ]);
  });

  test('a queen of an unknown delivery is refused', () => {
    const { queens } = temporaryStore();
    queens.putArrival(arrival);
    queens.putQueen({ id: 'q1', arrivalId: 'a1', source: 'hills', line: 'dark' });
    expect(queens.queen('q1')).toEqual({ id: 'q1', arrivalId: 'a1', source: 'hills', line: 'dark' });
    expect(() => queens.putQueen({ id: 'q2', arrivalId: 'a9', source: '', line: '' })).toThrow(
      /no delivery a9/,
    );
    expect(queens.queens()).toHaveLength(1);
  });
});

describe('alerts', () => {
  const alert = (id: string, more: Partial<StoredAlert> = {}): StoredAlert => ({
    id,
    ruleId: 'brood-chilling',
    subject: { kind: 'nuc', id: 'n1' },
    phase: 'raised',
    urgency: 'now',
    open: true,
    changedAtMs: may1,
    state: { activeSinceMs: may1, raisedAtMs: may1 + minute },
    message: { todo: 'Narrow the entrance.' },
    ...more,
  });

  test('survive a restart with their transitions', () => {
    const store = temporaryStore();
    store.alerts.save(alert('x', { phase: 'holding' }), {
      atMs: may1,
      from: null,
      to: 'holding',
      text: 'began',
    });
    store.alerts.save(alert('x', { changedAtMs: may1 + 1 }), {
      atMs: may1 + 1,
      from: 'holding',
      to: 'raised',
      text: 'lasted',
    });
    const again = reopened(store);
    expect(again.alerts.get('x')).toEqual(alert('x', { changedAtMs: may1 + 1 }));
    expect(again.alerts.history('x').map(({ to }) => to)).toEqual(['holding', 'raised']);
    again.close();
  });

  test('are found by state, phase, subject and age, newest change first', () => {
    const { alerts } = temporaryStore();
    alerts.saveAll([
      { alert: alert('a') },
      { alert: alert('b', { phase: 'cleared', open: false, changedAtMs: may1 + 2 }) },
      { alert: alert('c', { subject: { kind: 'site', id: 'n1' }, changedAtMs: may1 + 1 }) },
    ]);
    const found = (query: Parameters<typeof alerts.list>[0]): string[] =>
      alerts.list(query).map(({ id }) => id);
    expect(found({})).toEqual(['b', 'c', 'a']);
    expect(found({ open: true })).toEqual(['c', 'a']);
    expect(found({ phase: 'cleared' })).toEqual(['b']);
    expect(found({ subject: { kind: 'nuc', id: 'n1' } })).toEqual(['b', 'a']);
    expect(found({ sinceMs: may1 + 1, limit: 1 })).toEqual(['b']);
    expect(alerts.prune(may1 + day)).toBe(1);
    expect(found({})).toEqual(['c', 'a']);
  });
});

describe('settings', () => {
  test('remember what changed, when and by whom; the same value again is no change', () => {
    let nowMs = may1;
    const { settings } = temporaryStore({ nowMs: () => nowMs });
    settings.put('limits/chill', { c: 32, holdMin: 15 }, { by: 'Keeper' });
    settings.put('limits/chill', { holdMin: 15, c: 32 }, { by: 'Helper' });
    nowMs += hour;
    settings.put('limits/chill', { c: 31.5, holdMin: 15 }, { by: 'Helper' });
    settings.remove('limits/chill', { by: 'Keeper' });
    expect(settings.get('limits/chill')).toBeUndefined();
    expect(settings.changes().map(({ atMs, by, before, after }) => [atMs, by, before, after])).toEqual([
      [may1 + hour, 'Keeper', { c: 31.5, holdMin: 15 }, undefined],
      [may1 + hour, 'Helper', { c: 32, holdMin: 15 }, { c: 31.5, holdMin: 15 }],
      [may1, 'Keeper', undefined, { c: 32, holdMin: 15 }],
    ]);
  });

  test('a secret is stored, and its history does not tell it', () => {
    const { settings } = temporaryStore();
    settings.put('tellings', [{ secret: 'hush' }], { by: 'Keeper', secret: true });
    settings.put('farm', { farmName: 'Meadow' }, { by: 'Keeper' });
    expect(settings.get('tellings')).toEqual([{ secret: 'hush' }]);
    expect(JSON.stringify(settings.changes())).not.toContain('hush');
    expect([...settings.all('tell').keys()]).toEqual(['tellings']);
    expect(settings.changes({ prefix: 'tell' })).toHaveLength(1);
    expect(settings.changes({ limit: 1 }).map(({ key }) => key)).toEqual(['farm']);
  });

  test('changes are remembered to a bound: the oldest give way, what holds stays', () => {
    const file = join(temporaryFolder(), 'welcomb.sqlite');
    const store = openStore({ file });
    store.settings.put('first', 1, { by: 'Keeper' });
    store.close();
    // Written all at once: thousands of changes one by one wait for the disk thousands of times.
    const db = new Database(file);
    db.exec(`WITH RECURSIVE n (value) AS (SELECT 0 UNION ALL SELECT value + 1 FROM n WHERE value < 4998)
      INSERT INTO setting_change (at_ms, by, key, after) SELECT 0, 'Keeper', 'limits/chill', value FROM n`);
    db.close();
    const again = openStore({ file });
    for (const value of [4999, 5000]) again.settings.put('limits/chill', value, { by: 'Keeper' });
    const changes = again.settings.changes({ limit: 10_000 });
    expect(changes).toHaveLength(5_000);
    expect(changes[0]).toMatchObject({ key: 'limits/chill', after: 5000 });
    expect(changes.at(-1)).toMatchObject({ key: 'limits/chill', after: 1 });
    expect(again.settings.get('first')).toBe(1);
    again.close();
  });

  test('marks survive a restart', () => {
    const store = temporaryStore();
    expect(store.marks.get('backup')).toBeUndefined();
    store.marks.set('backup', may1);
    store.marks.set('backup', may1 + day);
    const again = reopened(store);
    expect(again.marks.get('backup')).toBe(may1 + day);
    again.close();
  });
});

test('mappings come back in the order in which they are tried', () => {
  const { mappings } = temporaryStore();
  const mapping = { id: 'b', name: 'Uplinks', enabled: true, mapping: { topic: 'up/#', value: '/w' } };
  mappings.put(mapping);
  mappings.put({ ...mapping, id: 'a' });
  mappings.put({ ...mapping, enabled: false });
  expect(mappings.list()).toEqual([
    { ...mapping, enabled: false },
    { ...mapping, id: 'a' },
  ]);
  expect(mappings.remove('a')).toBe(true);
  expect(mappings.remove('a')).toBe(false);
  expect(mappings.get('b')).toEqual({ ...mapping, enabled: false });
});

describe('people', () => {
  const person = (id: string, name: string, role: Person['role']): Person => ({
    id,
    name,
    role,
    passwordHash: `hash of ${id}`,
    createdAtMs: may1,
  });

  test('names are taken once, whatever their case; there is always a keeper', () => {
    const { people } = temporaryStore();
    people.add(person('1', 'Imker', 'keeper'));
    expect(() => people.add(person('2', 'IMKER', 'viewer'))).toThrow(/somebody named IMKER already/);
    people.add(person('2', 'Helfer', 'helper'));
    expect(() => people.remove('1')).toThrow(/at least one keeper/);
    expect(() => people.setRole('1', 'viewer')).toThrow(/at least one keeper/);
    people.setRole('2', 'keeper');
    people.remove('1');
    expect(people.list().map(({ name }) => name)).toEqual(['Helfer']);
    expect(people.byName('helfer')?.id).toBe('2');
  });

  test('sessions end by time, by a new password, and with the person', () => {
    const { people } = temporaryStore();
    people.add(person('1', 'Imker', 'keeper'));
    people.add(person('2', 'Helfer', 'helper'));
    const session = { csrf: 'c', createdAtMs: may1, expiresAtMs: may1 + hour };
    people.addSession({ ...session, secretHash: 'h1', personId: '1' });
    people.addSession({ ...session, secretHash: 'h2', personId: '2' });
    expect(people.session('h1', may1)?.person.name).toBe('Imker');
    expect(people.session('h1', may1 + hour)).toBeUndefined();
    people.extendSession('h1', may1 + day);
    expect(people.session('h1', may1 + hour)?.session.expiresAtMs).toBe(may1 + day);
    expect(people.dropExpiredSessions(may1 + hour)).toBe(1);
    people.setPassword('1', 'new hash');
    expect(people.session('h1', may1)).toBeUndefined();
    people.addSession({ ...session, secretHash: 'h3', personId: '2' });
    people.remove('2');
    expect(people.session('h3', may1)).toBeUndefined();
  });

  test('tokens end with the password of their person, unless they are kept', () => {
    const { people } = temporaryStore();
    for (const id of ['1', '2']) {
      people.add(person(id, `Imker ${id}`, 'keeper'));
      const token = { id, secretHash: `t${id}`, personId: id, name: 'script', scope: 'read' };
      people.addToken({ ...token, createdAtMs: may1 });
    }
    expect(people.setPassword('1', 'new hash', { keepTokens: true })).toBe(0);
    expect(people.tokens()).toHaveLength(2);
    expect(people.setPassword('1', 'newer hash')).toBe(1);
    expect(people.tokens().map(({ id }) => id)).toEqual(['2']);
  });

  test('tokens are found by their hash only, and note their use once an hour', () => {
    const { people } = temporaryStore();
    people.add(person('1', 'Imker', 'keeper'));
    people.addToken({
      id: 't',
      secretHash: 'h',
      personId: '1',
      name: 'phone',
      scope: 'log',
      createdAtMs: may1,
    });
    people.tokenUsed('t', may1 + 2 * hour);
    people.tokenUsed('t', may1 + 2 * hour + minute);
    expect(people.token('h')).toMatchObject({
      token: { scope: 'log', lastUsedAtMs: may1 + 2 * hour },
      person: { id: '1' },
    });
    expect(people.token('t')).toBeUndefined();
    expect(people.tokens('1')).toHaveLength(1);
    expect(people.removeToken('t')).toBe(true);
    expect(people.token('h')).toBeUndefined();
  });

  test('the audit tells who did what, newest first', () => {
    const { people } = temporaryStore({ nowMs: () => may1 });
    people.noteAudit('Imker', 'signed in');
    people.noteAudit('Helfer', 'logged a visit');
    expect(people.audit(1)).toEqual([{ atMs: may1, who: 'Helfer', what: 'logged a visit' }]);
  });
});

test('devices', () => {
  const { devices } = temporaryStore();
  const device = { name: 'scale-1', passwordHash: 'h', ownTopicsOnly: true, createdAtMs: may1 };
  expect(devices.count()).toBe(0);
  devices.add(device);
  expect(() => devices.add(device)).toThrow(/named scale-1 already/);
  devices.seen('scale-1', may1 + hour);
  devices.seen('scale-1', may1 + hour + 59_999);
  expect(devices.list()).toEqual([{ ...device, lastSeenAtMs: may1 + hour }]);
  expect(devices.remove('scale-1')).toBe(true);
  expect(devices.get('scale-1')).toBeUndefined();
});

describe('announcements', () => {
  const add = (store: Store, ...announcements: { kind: 'announced'; key: string; value: string | null }[]) =>
    store.ingest.commit({ readings: [], quarantined: [], lastKnown: [], announcements });

  test('are kept with the commit that brings them, changed, and withdrawn', () => {
    const store = temporaryStore();
    add(store, { kind: 'announced', key: 'a', value: '{}' }, { kind: 'announced', key: 'b', value: '{}' });
    add(
      store,
      { kind: 'announced', key: 'a', value: '{"unit":"kg"}' },
      { kind: 'announced', key: 'b', value: null },
    );
    expect(reopened(store).announcements.list()).toEqual([
      { kind: 'announced', key: 'a', value: '{"unit":"kg"}' },
    ]);
  });

  test('are bounded in number and length', () => {
    const store = temporaryStore();
    const flood = Array.from({ length: mostAnnouncements + 5 }, (_, i) => `k${String(i)}`);
    add(store, ...flood.map((key) => ({ kind: 'announced' as const, key, value: '{}' })));
    expect(store.announcements.list()).toHaveLength(mostAnnouncements);
    add(store, { kind: 'announced', key: 'k0', value: null });
    add(store, { kind: 'announced', key: 'long', value: 'x'.repeat(5000) });
    expect(store.announcements.list()).toHaveLength(mostAnnouncements - 1);
  });
});
