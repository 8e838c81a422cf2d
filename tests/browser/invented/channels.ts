import type { Channel, Quarantined } from '../../../server/contract/sensors.ts';
import type { NamedCase } from './cases.ts';
import { broodC, dayMs, weightKg } from './weather.ts';

const iso = (atMs: number): string => new Date(Math.round(atMs)).toISOString();

export function channelsFor(cases: readonly NamedCase[], nowMs: number): Channel[] {
  let id = 0;
  const make = (
    one: NamedCase | undefined,
    sensor: string,
    place: 'scale' | 'brood' | 'cage',
    value: number,
    ageMs: number,
  ): Channel => {
    id += 1;
    const weight = place === 'scale';
    return {
      id,
      sensor,
      name: null,
      quantity: weight ? 'weight' : 'temperature',
      probe: place === 'cage' ? 'cage' : '',
      unit: weight ? 'kg' : 'Cel',
      latest: {
        value,
        unit: weight ? 'kg' : 'Cel',
        time: iso(nowMs - ageMs),
        stale: ageMs > 3_600_000,
        suspect: false,
      },
      firstTime: iso(nowMs - 20 * dayMs),
      expectedIntervalS: 300,
      health: one === undefined ? 'new' : ageMs > 3_600_000 ? 'silent' : 'fresh',
      healthText:
        one === undefined
          ? 'heard every 5 min'
          : ageMs > 3_600_000
            ? 'not heard for 7 h, usually every 5 min'
            : 'heard every 5 min',
      suspects24h: id % 7 === 0 ? 2 : 0,
      rawCounts: null,
      readings: 5000,
      assignment: one
        ? {
            id,
            channelId: id,
            hiveId: one.id,
            place,
            from: iso(nowMs - one.day * dayMs),
            ownerName: one.name,
          }
        : null,
    };
  };
  const assigned = cases.flatMap((one, i) => [
    make(one, `scale-${String(i + 1)}`, 'scale', Number(weightKg(one.course, one.day).toFixed(3)), 40_000),
    make(
      one,
      `probe-${String(i + 1)}`,
      'brood',
      Number(broodC(one.course, one.day).toFixed(2)),
      i === 6 ? 7 * 3_600_000 : 25_000,
    ),
    make(one, `probe-${String(i + 1)}`, 'cage', Number(broodC(one.course, one.day).toFixed(2)) - 1.4, 25_000),
  ]);
  return [...assigned, make(undefined, 'probe-new', 'brood', 33.9, 12_000)];
}

export const quarantined = (nowMs: number): Quarantined => ({
  id: 1,
  topic: 'shed/node-9/state',
  payloadText: '{"data":{"temp_c":33.8,"weight":11.87,"batt_mv":3580},"seq":118}',
  payloadBytes: 64,
  reason: 'No convention and no mapping fits this topic and message.',
  receivedAt: iso(nowMs - 90_000),
  times: 14,
});
