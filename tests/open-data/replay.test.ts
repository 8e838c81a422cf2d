/**
 * The replay's map against the real series: each file is read whole, without a line of code for it. Sources:
 * Arias-Calluari et al. (Sydney, weight and temperature); UrBAN, Abdollahi et al. 2024 (Montreal).
 */
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { loadReplay, readCommand } from '../../simulator/replay.ts';

const folder = process.env['OPEN_DATA_FOLDER'] ?? join('..', 'shared', 'data');
const load = async (path: string, args: readonly string[]) => {
  const command = readCommand([join(folder, path), ...args]);
  return loadReplay(command!, 0);
};
const iso = (ms: number | undefined) => new Date(ms!).toISOString();

describe.skipIf(!existsSync(folder))('open data (skipped where it is absent)', () => {
  it('a day of weight without headings', async () => {
    const { messages, problems } = await load('sydney-weight/Hive_2.csv', [
      '--time',
      '1 minute-of-day 2018-04-07',
      '--zone',
      'Australia/Sydney',
      '--map',
      '2=h2/weight:kg',
    ]);
    expect(messages).toHaveLength(1440);
    expect(problems).toEqual([]);
    // Sydney was ten hours ahead: its summer time had ended on 1 April.
    expect(iso(messages[0]?.atMs)).toBe('2018-04-06T14:01:00.000Z');
    expect(messages[0]?.value).toBe(23.68546986);
  });

  it('a season of two temperatures in local time across a clock change, 0 = missing', async () => {
    const { messages, missing, problems } = await load('sydney-temp/2016-A.csv', [
      '--time',
      'time_as_given local',
      '--zone',
      'Australia/Sydney',
      '--missing',
      '0',
      '--map',
      'H.T=a/temperature/brood:Cel',
      '--map',
      'E.T=sky/temperature:Cel',
    ]);
    expect(problems).toEqual([]);
    expect(missing).toBeGreaterThan(0);
    expect(messages.every(({ value }) => value !== 0)).toBe(true);
    expect(iso(messages[0]?.atMs)).toBe('2016-11-17T13:00:00.000Z');
  });

  it('brood temperature and humidity in UTC, and weather in local standard time', async () => {
    const hive = await load('montreal/montreal-3691.csv', [
      '--time',
      'time_utc iso',
      '--map',
      'hive_temp_c=m/temperature/brood',
      '--map',
      'hive_rh=m/humidity',
    ]);
    expect(hive.problems).toEqual([]);
    expect(iso(hive.messages[0]?.atMs)).toBe('2021-06-19T00:10:01.000Z');
    const sky = await load('montreal/weather_2021_2022.csv', [
      '--time',
      'Date/Time (LST) local',
      '--zone=-05:00',
      '--map',
      'Temp (°C)=sky/temperature',
      '--map',
      'Precip. Amount (mm)=sky/rain',
    ]);
    expect(sky.problems).toEqual([]);
    expect(iso(sky.messages[0]?.atMs)).toBe('2021-06-01T05:00:00.000Z');
  });
});
