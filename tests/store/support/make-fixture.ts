/**
 * Writes a full database of the present schema: `npx tsx tests/store/support/make-fixture.ts`, once a release, before
 * the next migration is begun. What it holds is what `open.test.ts` expects of every schema.
 */
import { existsSync, rmSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import Database from 'better-sqlite3';
import { migrations } from '../../../server/store/migrate.ts';
import { openStore } from '../../../server/store/store.ts';
import { commit, day, may1, minute, reading } from './made-up.ts';

const name = `../fixtures/schema-${String(migrations.at(-1)?.version)}.sqlite`;
const file = fileURLToPath(new URL(name, import.meta.url));
if (existsSync(file)) throw new Error(`${file} is there already: a released schema does not change.`);
const store = openStore({ file, nowMs: () => may1 + 5 * day });
const { places, introductions } = store;

for (let i = 0; i < 1000; i += 1) {
  const atMs = may1 + i * 5 * minute;
  const value = Math.round(2000 + 300 * Math.sin(i / 45)) / 100;
  commit(
    store,
    ...['n1', 'n2'].flatMap((sensor) => [
      reading(atMs, value + 12, { sensor, probe: 'brood' }),
      reading(atMs, value, { sensor, probe: 'cage', ...(i % 97 === 0 ? { suspect: 'spike' as const } : {}) }),
      reading(atMs, 11 + value / 100, { sensor, quantity: 'weight', unit: 'kg' }),
    ]),
  );
}
store.readings.seal();
const announcements = [{ kind: 'announced', key: 'hub/sensor/n1/config', value: '{}' }] as const;
store.ingest.commit({ readings: [], quarantined: [], lastKnown: [], announcements });
store.forecasts.keep({
  kind: 'topic',
  siteId: null,
  source: 'welcomb/$forecast',
  saidAtMs: may1,
  knownAtMs: may1,
  hours: [{ atMs: may1 + 60 * minute, temperatureC: 8.5 }],
});

places.putSite({
  id: 'lindenhang',
  name: 'Lindenhang',
  timeZone: 'Europe/Berlin',
  latDeg: 50.1,
  lonDeg: 9.2,
});
const hive = { siteId: 'lindenhang', box: { kind: 'wood', emptyKg: 6.5 }, createdAtMs: may1 } as const;
places.putHive({ ...hive, id: 'stock-1', role: 'parent', name: 'Stock 1' });
for (const n of ['1', '2']) {
  places.putHive({
    ...hive,
    id: `nuc-${n}`,
    role: 'nuc',
    name: `Nuc ${n}`,
    parentHiveId: 'stock-1',
    batch: 'May',
  });
  const id = `introduction-${n}`;
  introductions.open({
    id,
    nucId: `nuc-${n}`,
    startingPoint: 'planned-split',
    method: 'candy-cage',
    setup: {},
    openedAtMs: may1,
  });
  introductions.append([
    {
      type: 'fact',
      id: `split-of-nuc-${n}`,
      introductionId: id,
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
}
introductions.append([
  {
    type: 'correction',
    id: 'swap-of-nuc-2',
    introductionId: 'introduction-2',
    corrects: 'split-of-nuc-2',
    moveTo: 'introduction-1',
    happenedAtMs: may1,
    writtenAtMs: may1 + minute,
  },
]);
store.hiveVisits.add({
  id: 'visit-1',
  hiveId: 'stock-1',
  kind: 'fed',
  by: 'Keeper',
  happenedAtMs: may1,
  writtenAtMs: may1 + minute,
});
for (const [channelId, position] of [
  [1, 'brood'],
  [2, 'cage'],
  [3, 'scale'],
] as const) {
  places.assign({ channelId, owner: { hiveId: 'nuc-1' }, position, fromMs: may1, toMs: null });
}
store.channels.calibrate(3, may1 + day, { kind: 'tare', rawNow: 11 }, 'keeper');
store.alerts.save({
  id: 'brood-chilling nuc-1',
  ruleId: 'brood-chilling',
  subject: { kind: 'nuc', id: 'nuc-1' },
  phase: 'raised',
  urgency: 'now',
  open: true,
  changedAtMs: may1,
  state: { since: may1 },
  message: { todo: 'Close the entrance to a bee’s width.' },
});
store.people.add({ id: 'p1', name: 'Keeper', role: 'keeper', passwordHash: 'scrypt…', createdAtMs: may1 });
store.settings.put('farm', { farmName: 'Lindenhang' }, { by: 'Keeper' });
store.close();

// One file, without the write-ahead log.
const db = new Database(file);
db.pragma('journal_mode = DELETE');
db.exec('VACUUM');
db.close();
for (const end of ['-wal', '-shm']) rmSync(file + end, { force: true });
