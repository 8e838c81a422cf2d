/** Channels that sensors may make before they are assigned, and how they are forgotten. */
import { describe, expect, test } from 'vitest';
import { mostUnassigned, mostUnassignedOfSensor } from '../../server/store/channel-ids.ts';
import type { IncomingReading } from '../../server/store/port.ts';
import type { Store } from '../../server/store/store.ts';
import { commit, day, hour, may1, minute, reading } from './support/made-up.ts';
import { temporaryStore } from './support/temporary-store.ts';

const fromSensors = (store: Store, ...readings: IncomingReading[]) =>
  store.ingest.ofSensors.commit({ readings, quarantined: [], lastKnown: [] });
const reasons = (store: Store): string[] => store.quarantine.list().map(({ reason }) => reason);
const sensors = (store: Store): string[] => store.channels.list().map(({ sensor }) => sensor);
const named = (count: number, prefix = 's'): IncomingReading[] =>
  Array.from({ length: count }, (_, i) => reading(may1, 1, { sensor: `${prefix}${String(i)}` }));

function meadow(store: Store): { readonly siteId: string } {
  store.places.putSite({ id: 'm', name: 'Meadow', timeZone: 'Europe/Berlin', latDeg: 50, lonDeg: 9 });
  return { siteId: 'm' };
}

describe('what sensors may make without anybody assigning it', () => {
  test('is 100 channels a sensor; one that is assigned makes room for another', () => {
    const store = temporaryStore();
    const probes = Array.from({ length: mostUnassignedOfSensor + 50 }, (_, i) =>
      reading(may1, 1, { probe: `p${String(i)}` }),
    );
    expect(fromSensors(store, ...probes).stored).toHaveLength(mostUnassignedOfSensor);
    expect(store.quarantine.list()).toHaveLength(1);
    expect(reasons(store)[0]).toBe(
      'this sensor has 100 channels already that are not assigned: assign them, or forget them on the Sensors page',
    );
    // What is there goes on, and so do others.
    expect(fromSensors(store, reading(may1 + 1, 2, { probe: 'p7' })).stored).toHaveLength(1);
    expect(fromSensors(store, reading(may1, 1, { sensor: 'other' })).stored).toHaveLength(1);
    store.places.assign({
      channelId: 1,
      owner: meadow(store),
      position: 'outside',
      fromMs: may1,
      toMs: null,
    });
    expect(fromSensors(store, ...probes.slice(-2)).stored).toHaveLength(1);
  });

  test('is 3,000 channels of all sensors, but for those that bear a device’s name', () => {
    const store = temporaryStore();
    expect(fromSensors(store, ...named(mostUnassigned + 20)).stored).toHaveLength(mostUnassigned);
    expect(reasons(store)[0]).toBe(
      'there are 3000 channels already that are not assigned: assign them, or forget them on the Sensors page',
    );
    expect(fromSensors(store, ...named(5, 'more')).stored).toHaveLength(0);
    store.devices.add({ name: 'scale-9', passwordHash: 'x', ownTopicsOnly: true, createdAtMs: may1 });
    expect(fromSensors(store, reading(may1, 1, { sensor: 'scale-9' })).stored).toHaveLength(1);
    const lastKnown = [{ ...reading(may1, 1, { sensor: 'retained' }), receivedAtMs: may1 + 1 }];
    store.ingest.ofSensors.commit({ readings: [], quarantined: [], lastKnown });
    expect(store.quarantine.list().map(({ topic }) => topic)).toContain('retained');
    expect(sensors(store)).not.toContain('retained');
  });

  test('does not bound what the keeper brings in', () => {
    const store = temporaryStore();
    expect(commit(store, ...named(mostUnassigned + 20)).stored).toHaveLength(mostUnassigned + 20);
  });

  test('a message with 10,000 names is put aside within seconds of processor time', () => {
    const store = temporaryStore();
    const pack = Array.from({ length: 10_000 }, (_, i) => reading(may1, 1e9, { probe: `p${String(i)}` }));
    const before = process.cpuUsage();
    fromSensors(store, ...pack);
    const { user, system } = process.cpuUsage(before);
    expect((user + system) / 1e6).toBeLessThan(5);
    expect(store.quarantine.list()).toHaveLength(500);
  });
});

describe('forgetting channels', () => {
  function filled(): Store {
    const store = temporaryStore();
    for (let i = 0; i < 72; i += 1) {
      const at = may1 + i * hour;
      commit(store, reading(at, i, { sensor: 'stray' }), reading(at, i, { sensor: 'kept' }));
    }
    store.readings.seal({ endedBeforeMs: may1 + 2 * day });
    commit(store, reading(may1 + 3, 9, { sensor: 'stray' }), reading(may1, 9, { sensor: 'stray' }));
    store.channels.calibrate(1, may1, { kind: 'offset', add: 5 });
    store.channels.calibrate(2, may1, { kind: 'offset', add: 5 });
    return store;
  }
  const everything = (store: Store, channelId: number) => ({
    raw: store.readings.query({ channelId, fromMs: 0, toMs: may1 + 100 * day, resolution: 'raw' }),
    days: store.readings.query({ channelId, fromMs: 0, toMs: may1 + 100 * day, resolution: 'day' }),
    channel: store.channels.get(channelId),
  });

  test('takes hot and sealed readings, roll-ups, conflicts and calibrations, and leaves the others’', () => {
    const store = filled();
    const before = everything(store, 2);
    expect(store.forgetChannels([1, 1, 77])).toBe(1);
    for (const one of [store, temporaryStore({ file: store.file })]) {
      expect(sensors(one)).toEqual(['kept']);
      const { raw, days, channel } = everything(one, 1);
      expect([raw.atMs.length, days.atMs.length, channel]).toEqual([0, 0, undefined]);
      expect(everything(one, 2)).toEqual(before);
      expect(one.readings.conflicts()).toEqual([]);
      expect(one.channels.allCalibrations().size).toBe(1);
    }
    expect(store.forgetChannels([1])).toBe(0);
  });

  test('gives its number to no other, and it comes back without its past', () => {
    const store = filled();
    expect(store.forgetChannels([1, 2])).toBe(2);
    expect(fromSensors(store, reading(may1 + 5 * day, 3, { sensor: 'kept' })).stored).toMatchObject([
      { channelId: 3, value: 3 },
    ]);
    expect(store.channels.list()).toMatchObject([{ id: 3, readings: 1, latest: { value: 3 } }]);
    store.readings.seal({ endedBeforeMs: may1 + 9 * day });
    expect(store.channels.get(3)?.readings).toBe(1);
  });

  test('refuses all where one stands at a place, or stood there', () => {
    const store = filled();
    const toMs = may1 + day;
    store.places.assign({ channelId: 2, owner: meadow(store), position: 'outside', fromMs: may1, toMs });
    expect(() => store.forgetChannels([1, 2])).toThrow(
      "A channel of kept stands at a place or stood there: its readings are that place's history, and stay.",
    );
    expect(sensors(store)).toEqual(['stray', 'kept']);
    expect(store.channels.get(1)?.readings).toBe(73);
  });

  test('takes one that stands at a place where that is asked for: the place keeps what others sent', () => {
    const store = filled();
    const owner = meadow(store);
    store.places.assign({ channelId: 1, owner, position: 'outside', fromMs: may1, toMs: may1 + day });
    store.places.assign({ channelId: 2, owner, position: 'outside', fromMs: may1 + day, toMs: null });
    expect(store.forgetChannels([1], true)).toBe(1);
    expect(sensors(store)).toEqual(['kept']);
    expect(store.places.assignmentsOf(owner)).toMatchObject([{ channelId: 2 }]);
    expect(store.places.stretches(owner, 'outside', may1, may1 + 2 * day)).toEqual([
      { channelId: 2, fromMs: may1 + day, toMs: may1 + 2 * day },
    ]);
  });
});

describe('channels that were never assigned', () => {
  const expire = (store: Store, nowMs: number) =>
    store.expire({ rawBeforeMs: 0, unassignedBeforeMs: nowMs - 60 * day, strayBeforeMs: nowMs - 14 * day });

  test('go after 14 silent days where they said little; a season that was brought in waits', () => {
    const store = temporaryStore({ nowMs: () => may1 });
    const series = (sensor: string, count: number, everyMs: number): void => {
      commit(store, ...Array.from({ length: count }, (_, i) => reading(may1 + i * everyMs, 1, { sensor })));
    };
    series('made-up', 1, minute);
    series('tried', 99, minute);
    series('season', 100, minute);
    series('daily', 10, 2 * day);
    series('calibrated', 1, minute);
    store.channels.calibrate(5, may1, { kind: 'offset', add: 1 });
    expect(expire(store, may1 + 13 * day)).toEqual({ channelDays: 0, channels: 0 });
    expect(expire(store, may1 + 16 * day).channels).toBe(2);
    expect(sensors(store)).toEqual(['season', 'daily', 'calibrated']);
  });
});
