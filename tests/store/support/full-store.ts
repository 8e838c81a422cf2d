/** A store with something of every kind in it. */
import type { Store } from '../../../server/store/store.ts';
import { commit, day, may1, minute, reading } from './made-up.ts';

export function fillWithEverything(store: Store): void {
  const { places, introductions } = store;
  for (let i = 0; i < 400; i += 1) {
    const atMs = may1 + i * 5 * minute;
    const value = Math.round(2000 + 300 * Math.sin(i / 45)) / 100;
    commit(
      store,
      reading(atMs, value, { probe: 'cage', ...(i % 97 === 0 ? { suspect: 'spike' as const } : {}) }),
      reading(atMs, 11 + value / 100, { quantity: 'weight', unit: 'kg' }),
    );
  }
  store.readings.seal({ endedBeforeMs: may1 + day });
  places.putSite({ id: 's1', name: 'Upper field', timeZone: 'Europe/Berlin', latDeg: 50.1, lonDeg: 9.2 });
  places.putHive({
    id: 'n1',
    siteId: 's1',
    role: 'nuc',
    name: 'Nuc 1',
    box: { kind: 'wood' },
    createdAtMs: may1,
  });
  introductions.open({
    id: 'introduction-1',
    nucId: 'n1',
    startingPoint: 'planned-split',
    method: 'candy-cage',
    setup: { note: 'late' },
    openedAtMs: may1,
  });
  introductions.append([
    {
      type: 'fact',
      id: 'entry-of-split',
      introductionId: 'introduction-1',
      happenedAtMs: may1,
      writtenAtMs: may1,
      fact: {
        kind: 'split-made',
        framesOfBees: 4,
        framesOfSealedBrood: 1.5,
        framesOfOpenBrood: 1,
        framesOfStores: 1,
        oldQueen: 'seen-in-parent',
        cellsAlreadyThere: 'none',
      },
    },
  ]);
  store.channels.calibrate(2, may1 + day, { kind: 'tare', rawNow: 11 }, 'Ada');
  store.alerts.save({
    id: 'brood-chilling n1',
    ruleId: 'brood-chilling',
    subject: { kind: 'nuc', id: 'n1' },
    phase: 'ended',
    urgency: 'now',
    open: false,
    changedAtMs: may1,
    state: { since: may1 },
    message: { todo: 'Close the entrance to a bee’s width.' },
  });
  store.people.add({ id: 'p1', name: 'Ada', role: 'keeper', passwordHash: 'scrypt$1', createdAtMs: may1 });
  store.people.addSession({
    secretHash: 'h1',
    personId: 'p1',
    csrf: 'c',
    createdAtMs: may1,
    expiresAtMs: may1 + 1e12,
  });
  store.people.addToken({
    id: 't1',
    secretHash: 'h2',
    personId: 'p1',
    name: 'script',
    scope: 'all',
    createdAtMs: may1,
  });
  store.settings.put('farm', { farmName: 'Upper field' }, { by: 'Ada' });
  store.settings.put('internal/calendar-key', 'k'.repeat(43), { by: 'server', secret: true });
}
