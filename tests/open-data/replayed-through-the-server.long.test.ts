/**
 * Real series, replayed over real MQTT into the running server and read back as its pages would. Source: Arias-Calluari
 * et al. (Sydney, weight and temperature). To compare with: the plain reading that comes with the open data (a 15-minute
 * median and a straight line through 00:30-05:30): hive 2 loses 28.6 g an hour at night and is 20 g below that line at 06:38.
 */
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { pino } from 'pino';
import { afterEach, describe, expect, it } from 'vitest';
import type { ResponseOf } from '../../server/contract/index.ts';
import { runServer, type Running } from '../../server/run.ts';
import { parseSettings } from '../../server/settings.ts';
import { openPublisher } from '../../simulator/sending/publish.ts';
import { loadReplay, readCommand } from '../../simulator/replay.ts';
import { dropFolder, newFolder } from '../support/server-process.ts';

const folder = process.env['OPEN_DATA_FOLDER'] ?? join('..', 'shared', 'data');
const timeZone = 'Australia/Sydney';
const minuteMs = 60_000;

describe.skipIf(!existsSync(folder))('open series through the server (skipped where they are absent)', () => {
  let running: Running | undefined;
  let data = '';
  afterEach(async () => {
    await running?.stop();
    dropFolder(data);
  });

  async function request<T>(method: string, path: string, body?: unknown): Promise<T> {
    const base = running?.http ?? '';
    const response = await fetch(`${base}/api/v1/${path}`, {
      method,
      headers: { 'content-type': 'application/json', origin: base },
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
    });
    if (!response.ok) throw new Error(await response.text());
    return (await response.json()) as T;
  }

  /** Replays a file with the server's clock at its end, and puts its channels to their places. */
  async function replayed(
    path: string,
    args: readonly string[],
    places: Readonly<Record<string, string>>,
  ): Promise<{ fromMs: number; toMs: number }> {
    const command = readCommand([join(folder, path), ...args]);
    const { messages } = await loadReplay(command!, 0);
    const fromMs = messages[0]!.atMs;
    const toMs = messages.at(-1)!.atMs;
    data = newFolder();
    const parsed = parseSettings(
      ['--data', data, '--http', '127.0.0.1:0', '--mqtt', '127.0.0.1:0', '--log-level', 'silent'],
      {},
      () => '',
    );
    if (!parsed.ok) throw new Error(parsed.message);
    running = await runServer(parsed.settings, {
      clock: () => toMs + minuteMs,
      log: pino({ level: 'silent' }),
    });
    const publisher = await openPublisher({ url: running.mqtt });
    await publisher.publish(messages, { format: 'json' });
    await publisher.close();
    await request('POST', 'sites', {
      id: 'open',
      name: 'Open series',
      timeZone,
      latDeg: -33.9,
      lonDeg: 151.2,
    });
    await request('POST', 'hives', { id: 'hive', name: 'Open hive', siteId: 'open', role: 'nuc' });
    const { items } = await request<ResponseOf<'listChannels'>>('GET', 'channels');
    for (const { id, sensor } of items) {
      const place = places[sensor];
      if (place === undefined) continue;
      const owner = place === 'outside' ? { siteId: 'open' } : { hiveId: 'hive' };
      await request('POST', 'assignments', {
        channelId: id,
        ...owner,
        place,
        from: new Date(fromMs - minuteMs).toISOString(),
      });
    }
    return { fromMs, toMs };
  }
  const chart = (fromMs: number, toMs: number, pixels = 800) =>
    request<ResponseOf<'getNucChart'>>(
      'GET',
      `nucs/hive/chart?pixels=${String(pixels)}&from=${new Date(fromMs).toISOString()}&to=${new Date(toMs).toISOString()}`,
    );
  const local = (iso: string | null) =>
    new Intl.DateTimeFormat('en-GB', {
      timeZone,
      hour: '2-digit',
      minute: '2-digit',
      hourCycle: 'h23',
    }).format(Date.parse(iso!));
  const minuteOfDay = (iso: string | null): number => {
    const [hour = 0, minute = 0] = local(iso).split(':').map(Number);
    return hour * 60 + minute;
  };

  it('charts a day of weight in local time and finds its night slope and its morning departure', async () => {
    const args = ['--time', '1 minute-of-day 2018-04-07', '--zone', timeZone, '--map', '2=scale-2/weight:kg'];
    const { fromMs, toMs } = await replayed('sydney-weight/Hive_2.csv', args, { 'scale-2': 'scale' });
    const found = await chart(fromMs, toMs + 1, 1500);
    expect(found.timeZone).toBe(timeZone);
    const line = found.series.find(({ place }) => place === 'scale')!;
    expect(local(new Date(line.points[0]![0]!).toISOString())).toBe('00:01');
    expect(line.points[0]![1]).toBeCloseTo(23.685, 3);
    // Within 3 g/h and 30 minutes of the plain reading; both are readings of the same day, not a truth.
    const night = found.nights.find(({ from }) => minuteOfDay(from) < 6 * 60) ?? found.nights[0]!;
    expect(Math.abs(night.slopeGPerH - -28.6)).toBeLessThanOrEqual(3);
    const departure = found.departures.find((day) => day.departure !== null)!;
    expect(Math.abs(minuteOfDay(departure.departure) - (6 * 60 + 38))).toBeLessThanOrEqual(30);
  }, 60_000);

  it('charts a season of brood temperature with its gaps as gaps, and raises no chilling alert on a stable hive', async () => {
    const args = [
      '--time',
      'time_as_given local',
      '--zone',
      timeZone,
      '--missing',
      '0',
      '--map',
      'H.T=nest/temperature:Cel',
      '--map',
      'E.T=sky/temperature:Cel',
    ];
    const { fromMs, toMs } = await replayed('sydney-temp/2020-A.csv', args, {
      nest: 'brood',
      sky: 'outside',
    });
    const found = await chart(fromMs, toMs + 1);
    const line = found.series.find(({ place }) => place === 'brood')!;
    const times = line.points.map((point) => point[0]!);
    expect(times).toEqual(times.toSorted((a, b) => a - b));
    const values = line.points.flatMap((point) => (point[1] == null ? [] : [point[1]]));
    expect(Math.min(...values)).toBeGreaterThan(32);
    // As a nest with brood at stake: a split at its beginning, the rules run over its first eight days.
    await request('POST', 'nucs/hive/introductions', {
      id: 'open-introduction',
      startingPoint: 'planned-split',
      method: 'candy-cage',
    });
    const fact = {
      kind: 'split-made',
      framesOfBees: 6,
      framesOfSealedBrood: 2,
      framesOfOpenBrood: 2,
      framesOfStores: 2,
      oldQueen: 'seen-in-parent',
      cellsAlreadyThere: 'none',
    };
    const entry = {
      id: 'open-split-fact',
      introductionId: 'open-introduction',
      type: 'fact',
      happenedAtMs: fromMs,
      writtenAtMs: fromMs,
      fact,
    };
    await request('POST', 'log', { entries: [entry] });
    const dayMs = 1440 * minuteMs;
    const again = await request<ResponseOf<'replay'>>('POST', 'review/replay', {
      nucId: 'hive',
      from: new Date(fromMs + dayMs).toISOString(),
      to: new Date(fromMs + 9 * dayMs).toISOString(),
    });
    // Looks in which nothing can differ are left out, but in no stretch of more than eighteen hours all of them.
    expect(again.ticks).toBeGreaterThanOrEqual((8 * 24) / 18);
    expect(again.items.filter(({ ruleId }) => /chill|hot/.test(ruleId))).toEqual([]);
    const alerts = await request<ResponseOf<'listAlerts'>>('GET', 'alerts?state=all');
    expect(alerts.items.filter(({ ruleId }) => /chill|hot/.test(ruleId))).toEqual([]);
  }, 120_000);
});
