/** Stored settings that can't be read: told by name, kept, acted on by nothing, and no reason to reset another. */
import Database from 'better-sqlite3';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import fc from 'fast-check';
import {
  backupFolder,
  backupsKept,
  farmSetting,
  farmSettings,
  farmToStore,
  readFarm,
  settingFaults,
  notificationChannels,
} from '../../server/farm/settings.ts';
import { farmSettingsSchema, type SettingFault } from '../../server/contract/settings.ts';
import { housekeeping } from '../../server/jobs/housekeeping.ts';
import { beat } from '../../server/notify/heartbeat.ts';
import { startJobs } from '../../server/jobs/runner.ts';
import { readLimits, storedWithLimit } from '../../server/rules/engine/stored-limits.ts';
import type { TestServer } from './support/server.ts';
import { furnish, nowMs, startServer } from './support/server.ts';

const day = 86_400_000;
const good = { farmName: 'Hillside', rawKeepDays: 4000, backupKeep: 30, standingCellLimit: 0.02 };
let server: TestServer;
beforeEach(async () => {
  server = await startServer();
});
afterEach(() => server.stop());

const by = { by: 'Rowan' };
const ask = async (method: string, path: string, body?: unknown): Promise<Response> =>
  fetch(`${server.url}/api/v1${path}`, {
    method,
    headers: { 'content-type': 'application/json', origin: server.url },
    ...(body === undefined ? {} : { body: JSON.stringify(body) }),
  });
const faultsOf = async (path: string): Promise<SettingFault[]> =>
  ((await (await ask('GET', path)).json()) as { settingFaults: SettingFault[] }).settingFaults;
/** As a disk, or somebody with an editor, may leave it: no JSON at all. */
function writeText(key: string, text: string): void {
  const db = new Database(server.store.file);
  db.prepare('INSERT OR REPLACE INTO setting (key, value) VALUES (?, ?)').run(key, text);
  db.close();
}

describe('one bad farm setting', () => {
  it('leaves the others as they are', () => {
    server.store.settings.put('farm', { ...good, backupKeep: 'many' }, by);
    expect(farmSettings(server.store.settings)).toMatchObject({ ...good, backupKeep: 14 });
    expect(farmSetting(server.store.settings, 'backupKeep')).toBeNull();
    expect(farmSetting(server.store.settings, 'rawKeepDays')).toBe(4000);
    expect(backupsKept(server.store.settings)).toBe(Infinity);
  });

  it('is told by name, with its stored text, by the status and to the page', async () => {
    expect(await faultsOf('/status')).toEqual([]);
    server.store.settings.put('farm', { ...good, rawKeepDays: 'ten years' }, by);
    const fault = {
      name: 'farm.rawKeepDays',
      stored: '"ten years"',
      effect: 'No reading is deleted until it is put right.',
    };
    expect(await faultsOf('/status')).toMatchObject([fault]);
    expect(await faultsOf('/me')).toMatchObject([fault]);
  });

  it('of an address that can’t be called, stored by an older program, holds up no other setting', async () => {
    server.store.settings.put('farm', { ...good, heartbeatUrl: 'bees' }, by);
    const shown = (await (await ask('GET', '/settings/farm')).json()) as object;
    expect((await ask('PUT', '/settings/farm', { ...shown, farmName: 'Valley' })).status).toBe(200);
    expect(server.store.settings.get('farm')).toMatchObject({ farmName: 'Valley', heartbeatUrl: 'bees' });
    expect(await beat('bees', null)).toEqual({
      ok: false,
      detail: 'The heartbeat address has to be an http or https address.',
      final: true,
    });
  });

  it('keeps its stored text when the form is saved, until it is put right by name', async () => {
    server.store.settings.put('farm', { ...good, rawKeepDays: 'ten years', later: 1 }, by);
    const shown = (await (await ask('GET', '/settings/farm')).json()) as object;
    expect((await ask('PUT', '/settings/farm', { ...shown, farmName: 'Valley' })).status).toBe(200);
    expect(server.store.settings.get('farm')).toMatchObject({
      ...good,
      farmName: 'Valley',
      rawKeepDays: 'ten years',
      later: 1,
    });
    const right = { ...shown, rawKeepDays: 3650, putRight: ['rawKeepDays'] };
    expect((await ask('PUT', '/settings/farm', right)).status).toBe(200);
    expect(farmSetting(server.store.settings, 'rawKeepDays')).toBe(3650);
    expect(server.store.settings.get('farm')).not.toHaveProperty('putRight');
    expect(await faultsOf('/status')).toEqual([]);
  });

  it('shows no text of an address, for a token may stand in it', () => {
    server.store.settings.put('farm', { heartbeatUrl: ['https://x.test/TOKEN'], forecastUrl: 7 }, by);
    const faults = settingFaults(server.store.settings);
    expect(faults.map(({ name }) => name).sort()).toEqual(['farm.forecastUrl', 'farm.heartbeatUrl']);
    expect(JSON.stringify(faults)).not.toContain('TOKEN');
  });
});

it('a text that is not JSON hides no other setting, and is kept until every key is put right', async () => {
  server.store.settings.put('telling/hook', telling('hook'), { ...by, secret: true });
  writeText('farm', '{"farmName": "Hill');
  writeText('telling/torn', '{"id":');
  expect(notificationChannels(server.store.settings).map(({ id }) => id)).toEqual(['hook']);
  const names = (await faultsOf('/status')).map(({ name }) => name);
  expect(names).toContain('farm.rawKeepDays');
  expect(names).toContain('telling/torn');
  expect(backupFolder(server.store)).toBeNull();
  const plain = farmSettingsSchema.parse({});
  expect((await ask('PUT', '/settings/farm', plain)).status).toBe(409);
  expect(server.store.settings.get('farm')).toBe('{"farmName": "Hill');
  const all = { ...plain, putRight: Object.keys(plain) };
  expect((await ask('PUT', '/settings/farm', all)).status).toBe(200);
  expect((await ask('DELETE', '/settings/tellings/torn')).status).toBe(204);
  expect(await faultsOf('/status')).toEqual([]);
});

function telling(id: string) {
  return { id, name: id, kind: 'webhook', enabled: true, urgencies: ['now'], address: 'http://127.0.0.1:1/' };
}

it('a way to tell that can’t be read is named without its content, and the others stay', async () => {
  server.store.settings.put('telling/a', telling('a'), { ...by, secret: true });
  server.store.settings.put('telling/b', { ...telling('b'), kind: 'pigeon', secret: 'HUSH' }, by);
  const listed = (await (await ask('GET', '/settings/tellings')).json()) as { items: { id: string }[] };
  expect(listed.items.map(({ id }) => id)).toEqual(['a']);
  const faults = await faultsOf('/status');
  expect(faults.map(({ name }) => name)).toEqual(['telling/b']);
  expect(JSON.stringify(faults)).not.toContain('HUSH');
});

describe('the nightly jobs', () => {
  const runJobs = async (): Promise<{ done: string[]; failed: string[] }> => {
    const done: string[] = [];
    const failed: string[] = [];
    const jobs = housekeeping({
      store: server.store,
      timeZone: () => 'UTC',
      beat: () => Promise.resolve(),
      log: { info: () => undefined },
    });
    const runner = startJobs(jobs, {
      clock: () => nowMs,
      lastSuccess: { get: () => null, set: (name) => void done.push(name) },
      onError: (job) => void failed.push(job),
    });
    await runner.runDue();
    await runner.stop();
    return { done, failed };
  };
  /** Readings so old that the default deletes them. */
  const oldReadings = (): number => {
    const observedAtMs = nowMs - 3000 * day;
    const reading = { sensor: 'scale-9', quantity: 'weight', probe: '', unit: 'kg' } as const;
    server.store.ingest.commit({
      readings: [{ ...reading, value: 12, observedAtMs, receivedAtMs: observedAtMs }],
      quarantined: [],
      lastKnown: [],
    });
    server.store.readings.seal({ endedBeforeMs: nowMs });
    const id = server.store.channels.find(reading)?.id ?? 0;
    server.store.places.assign({
      channelId: id,
      owner: { hiveId: 'n1' },
      position: 'scale',
      fromMs: observedAtMs - day,
      toMs: null,
    });
    return id;
  };
  const kept = (id: number): number => server.store.readings.series(id, 0, nowMs).atMs.length;

  it('delete no reading while the days that they are kept can’t be read, and run once it is put right', async () => {
    furnish(server);
    const id = oldReadings();
    server.store.settings.put('farm', { ...good, rawKeepDays: '4000' }, by);
    expect((await runJobs()).done).not.toContain('retention');
    expect(kept(id)).toBe(1);
    server.store.settings.put('farm', { ...good, farmName: 7 }, by);
    expect((await runJobs()).done).toContain('retention');
    expect(kept(id)).toBe(1);
    server.store.settings.put('farm', { ...good, rawKeepDays: 2000 }, by);
    await runJobs();
    expect(kept(id)).toBe(0);
  }, 60_000);

  it('make no backup while its folder can’t be read, and say no error every minute', async () => {
    server.store.settings.put('farm', { backupFolder: 5 }, by);
    const { done, failed } = await runJobs();
    expect(done).not.toContain('backup');
    expect(failed).toEqual([]);
    expect((await ask('POST', '/backup')).status).toBe(409);
  });
});

describe('alert limits', () => {
  const stored = {
    farm: { 'box-gone': { holdMin: 'soon', on: 1 }, 'not-a-rule': { x: 1 } },
    nucs: { n1: { 'box-gone': { clearHoldMin: 30 } }, n2: 'none' },
  };

  it('are read one by one: a bad one takes no other with it', () => {
    const { limits, faults } = readLimits(stored);
    expect(limits.farm).toEqual({ 'box-gone': { on: 1 } });
    expect(limits.nucs).toEqual({ n1: { 'box-gone': { clearHoldMin: 30 } }, n2: {} });
    expect(faults.map(({ path }) => path.join('.'))).toEqual(['farm.box-gone.holdMin', 'nucs.n2']);
  });

  it('are told with the other faults, and a change of one leaves the stored text of another', () => {
    const changed = storedWithLimit(stored, ['farm', 'box-gone', 'on'], 0);
    expect(changed).toMatchObject({ farm: { 'box-gone': { holdMin: 'soon', on: 0 } }, nucs: stored.nucs });
    expect(storedWithLimit(stored, ['farm', 'box-gone', 'holdMin'], null)).toMatchObject({
      farm: { 'box-gone': { on: 1 } },
    });
    server.store.settings.put('rule limits', stored, by);
    expect(settingFaults(server.store.settings).map(({ name }) => name)).toEqual([
      'rule limits.farm.box-gone.holdMin',
      'rule limits.nucs.n2',
    ]);
  });

  it('never throw, whatever is stored', () => {
    fc.assert(
      fc.property(fc.jsonValue(), (value) => {
        for (const one of [value, { farm: value }, { nucs: { n: { 'box-gone': value } } }]) {
          const { limits } = readLimits(one);
          expect(readLimits(limits)).toEqual({ limits, faults: [] });
        }
      }),
    );
  });
});

it('days on which nobody works are kept one by one', () => {
  server.store.settings.put('plan/unavailable', ['2031-05-12', 'Monday'], by);
  expect(settingFaults(server.store.settings).map(({ name }) => name)).toEqual(['plan/unavailable']);
});

it('whatever one key holds, every other key is read as it would be without it', () => {
  const keys = farmSettingsSchema.keyof().options;
  fc.assert(
    fc.property(fc.constantFrom(...keys), fc.jsonValue(), (key, value) => {
      const { farm, unreadable } = readFarm({ ...good, [key]: value });
      const alone = farmSettingsSchema.shape[key].safeParse(value).success;
      expect([...unreadable.keys()]).toEqual(alone ? [] : [key]);
      const { [key]: _bad, ...others } = farm;
      const { [key]: _good, ...expected } = farmSettingsSchema.parse(good);
      expect(others).toEqual(expected);
      const saved = farmToStore({ ...good, [key]: value }, farm, []);
      if (!alone) expect(saved?.[key]).toEqual(value);
    }),
  );
});
