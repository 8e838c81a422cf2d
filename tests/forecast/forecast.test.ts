/** A forecast from an address of the keeper's choice: read, checked, aged, and told of when it fails. */
import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { nightOf, warmestOf } from '../../server/forecast/hours.ts';
import { createForecasts, fetchForecast } from '../../server/forecast/fetch.ts';
import type { ForecastMessage } from '../../server/forecast/published.ts';
import { temporaryStore } from '../store/support/temporary-store.ts';
import type { Site } from '../../server/store/places/sites.ts';

const hourMs = 3_600_000;
const evening = Date.UTC(2026, 4, 12, 19);
const site = { id: 'hill', name: 'Hill', latDeg: 50.25, lonDeg: 10.5, timeZone: 'Europe/Berlin' } as Site;
/** 12 °C at eight in the evening, falling by a degree an hour to two at six. */
const hours = Array.from({ length: 24 }, (_, i) => ({
  time: new Date(evening + (i - 1) * hourMs).toISOString(),
  temperature: Math.max(2, 13 - i),
  wind: 1,
  rain: 0,
  cloud: 0.2,
}));

/** The same for long enough to foresee the night after. */
const longer = Array.from({ length: 48 }, (_, i) => ({
  time: new Date(evening + (i - 1) * hourMs).toISOString(),
  temperature: 3,
}));

let answer: (request: IncomingMessage, response: ServerResponse) => void;
let asked: string[] = [];
const server = createServer((request, response) => {
  asked.push(request.url ?? '');
  answer(request, response);
});
const json =
  (body: unknown, status = 200) =>
  (_request: IncomingMessage, response: ServerResponse): void => {
    response.writeHead(status, { 'content-type': 'application/json' }).end(JSON.stringify(body));
  };
let base = '';
beforeAll(async () => {
  await new Promise<void>((listening) => server.listen(0, '127.0.0.1', listening));
  base = `http://127.0.0.1:${String((server.address() as AddressInfo).port)}`;
});
afterAll(() => {
  server.closeAllConnections();
  server.close();
});
beforeEach(() => {
  asked = [];
  answer = json(hours);
});

function forecasts(address: string, store = temporaryStore().forecasts) {
  const now = { ms: evening };
  const set = { address };
  const deps = { address: () => set.address, sites: () => [site], clock: () => now.ms, store };
  return { now, set, store, made: createForecasts(deps) };
}

describe('a forecast', () => {
  it('is asked of nobody as long as no address is set', async () => {
    const { made } = forecasts('');
    await made.onMinute();
    expect(asked).toEqual([]);
    expect(made.night('hill', evening)).toBeUndefined();
    expect(made.states()).toEqual([]);
  });

  it('gives the coldest hour until dawn, for the place that the address asks about', async () => {
    const { made } = forecasts(`${base}/hourly?lat={lat}&lon={lon}&key=hush`);
    await made.onMinute();
    expect(asked).toEqual(['/hourly?lat=50.25&lon=10.5&key=hush']);
    const night = made.night('hill', evening);
    expect(night?.minC).toBe(3);
    expect(night?.byMs).toBeGreaterThan(evening + 8 * hourMs);
    expect(night?.byMs).toBeLessThan(evening + 10 * hourMs);
  });

  it('is asked once an hour, and no longer believed after half a day', async () => {
    answer = json(longer);
    const { made, now } = forecasts(`${base}/`);
    for (let minute = 0; minute <= 120; minute += 1) {
      now.ms = evening + minute * 60_000;
      await made.onMinute();
    }
    expect(asked).toHaveLength(3);
    answer = json({}, 503);
    now.ms += 11 * hourMs;
    await made.onMinute();
    expect(made.night('hill', now.ms)).toBeDefined();
    now.ms += 2 * hourMs;
    expect(made.night('hill', now.ms)).toBeUndefined();
  });

  it('is not asked for every minute while it can’t be kept', async () => {
    const { store } = forecasts(base);
    const full = { ...store, keep: () => raise(new Error('the disk is full')) };
    const { made, now } = forecasts(base, full);
    for (let minute = 0; minute < 60; minute += 1) {
      await made.onMinute().catch(() => undefined);
      now.ms += 60_000;
    }
    expect(asked.length).toBeGreaterThan(3);
    expect(asked.length).toBeLessThan(10);
  });

  it('is asked for as ever after the clock was set back', async () => {
    const { made, now } = forecasts(base);
    now.ms += 365 * 24 * hourMs;
    await made.onMinute();
    now.ms = evening;
    await made.onMinute();
    expect(asked).toHaveLength(2);
    await made.onMinute();
    expect(asked).toHaveLength(2);
  });

  it('says what is wrong without the address’s secret, tries again, and recovers', async () => {
    const { made, now } = forecasts(`${base}/x?key=hush`);
    answer = json({}, 500);
    await made.onMinute();
    const [state] = made.states();
    expect(state).toMatchObject({ site: 'Hill', fetchedAtMs: null });
    expect(state?.problem).toMatch(/127\.0\.0\.1.* can't be used: it answered 500/);
    expect(JSON.stringify(made.states())).not.toContain('hush');
    await made.onMinute();
    expect(asked).toHaveLength(1);
    answer = json(hours);
    now.ms += 60_000;
    await made.onMinute();
    expect(made.states()[0]).toMatchObject({ fetchedAtMs: now.ms, problem: null });
  });

  it('in steps too wide is refused with the reason, and the last usable one stays', async () => {
    const { made, now } = forecasts(`${base}/`);
    await made.onMinute();
    const before = made.night('hill', evening);
    expect(before?.minC).toBe(3);
    const sixHourly = hours.filter((_, i) => i % 6 === 0);
    answer = json(sixHourly);
    now.ms += hourMs;
    await made.onMinute();
    expect(made.states()[0]?.problem).toMatch(/its steps are 6 hours wide; at most 3 will do/);
    expect(made.night('hill', evening)).toEqual(before);
    // Hourly for two days and then six-hourly, as many services have it, will do.
    const later = [60, 66, 72].map((h) => ({
      time: new Date(evening + h * hourMs).toISOString(),
      temperature: 9,
    }));
    answer = json([...longer, ...later]);
    now.ms += hourMs;
    await made.onMinute();
    expect(made.states()[0]?.problem).toBeNull();
  });

  it('does not reach over a gap or past its end', () => {
    const at = (h: number, temperatureC: number) => ({ atMs: evening + h * hourMs, temperatureC });
    expect(nightOf([at(0, 12), at(1, 11)], site, evening, 'x')).toBeUndefined();
    expect(nightOf([at(0, 12), at(1, 11), at(8, 2), at(9, 2)], site, evening, 'x')).toBeUndefined();
    expect(nightOf([], site, evening, 'x')).toBeUndefined();
  });
});

describe('the warmest hour of a date', () => {
  const at = (day: number, hour: number, temperatureC: number) => ({
    atMs: Date.UTC(2026, 4, day, hour - 2),
    temperatureC,
  });
  it.each([
    {
      name: 'by its own hours',
      hours: [at(12, 14, 9), at(13, 12, 5), at(13, 15, 8), at(14, 15, 20)],
      highC: 8,
    },
    { name: 'no night', hours: [at(13, 0, 15), at(13, 15, 8), at(13, 22, 11)], highC: 8 },
    { name: 'not reached', hours: [at(12, 15, 9), at(13, 11, 5)], highC: undefined },
  ])('$name', ({ hours, highC }) => {
    expect(warmestOf(hours, site, '2026-05-13')).toBe(highC);
  });
});

/** What is kept ends two days after it became known, and services give later days in wider steps. */
describe('the warmest hour of a date of which a part is told', () => {
  const at = (hour: number, temperatureC: number) => ({
    atMs: Date.UTC(2026, 4, 13, hour - 2),
    temperatureC,
  });
  it.each([
    ['ends before the afternoon', [at(10, 9), at(11, 10), at(12, 11), at(13, 12)], undefined],
    ['has only noon of it', [at(6, 4), at(12, 11), at(18, 15), at(24, 9)], undefined],
    ['begins in the evening', [at(17, 12), at(18, 11), at(19, 10)], undefined],
    ['has it in steps of three hours', [at(9, 8), at(12, 11), at(15, 14), at(18, 13)], 14],
    ['begins in the early afternoon', [at(14, 13), at(15, 14), at(16, 14), at(17, 13)], 14],
  ])('where the forecast %s', (_what, told, highC) => {
    expect(warmestOf(told, site, '2026-05-13')).toBe(highC);
  });
});

describe('an answer that is none', () => {
  it.each([
    ['not JSON', (_: IncomingMessage, r: ServerResponse) => void r.end('<html>'), /not JSON/],
    ['no array', json(7), /at the top/],
    ['hours without when they were issued', json({ hours }), /at issued/],
    ['a wrong figure', json([{ ...hours[0], temperature: 285 }]), /0\/temperature/],
    ['a time without a zone', json([{ time: '2026-05-12T20:00', temperature: 3 }]), /0\/time/],
    ['nothing', json([]), /at the top/],
    ['too much', (_: IncomingMessage, r: ServerResponse) => void r.end('x'.repeat(300_000)), /256 KiB/],
    [
      'somewhere else',
      (_: IncomingMessage, r: ServerResponse) => void r.writeHead(302, { location: '/other' }).end(),
      /answered 302/,
    ],
  ])('%s', async (_what, how, why) => {
    answer = how;
    const got = await fetchForecast(`${base}/`);
    expect(got.ok ? '' : got.problem).toMatch(why);
    expect(asked).toHaveLength(1);
  });

  it.each(['file:///etc/hostname', 'ftp://127.0.0.1/', 'tonight'])(
    '%s is not asked at all',
    async (address) => {
      const got = await fetchForecast(address);
      expect(got.ok ? '' : got.problem).toMatch(/http or https/);
    },
  );
});

describe('a forecast that is published', () => {
  const published = (body: unknown, over: Partial<ForecastMessage> = {}): ForecastMessage => ({
    topic: 'welcomb/$forecast',
    site: null,
    payload: new TextEncoder().encode(typeof body === 'string' ? body : JSON.stringify(body)),
    retain: false,
    receivedAtMs: evening,
    ...over,
  });

  it('foresees the night of every site, or of the one that it names by name or id', () => {
    const { made, now } = forecasts('');
    expect(made.take(published(hours))).toBeNull();
    expect(made.night('hill', evening)).toMatchObject({ minC: 3, source: 'welcomb/$forecast' });
    const colder = hours.map((one) => ({ ...one, temperature: one.temperature - 5 }));
    const own = { topic: 'welcomb/$forecast/HILL', site: 'HILL', receivedAtMs: evening + 1 };
    expect(
      made.take(published({ issued: new Date(evening + 1).toISOString(), hours: colder }, own)),
    ).toBeNull();
    now.ms += 1;
    expect(made.night('hill', now.ms)).toMatchObject({ minC: -2, source: 'welcomb/$forecast/HILL' });
    expect(made.states()).toEqual([
      { site: 'Hill', host: 'welcomb/$forecast/HILL', fetchedAtMs: evening + 1, problem: null },
    ]);
  });

  it.each([
    ['<html>', {}, /not JSON/],
    [[{ ...hours[0], temperature: 285 }], {}, /0\/temperature/],
    [{ hours }, {}, /at issued/],
    ['null', {}, /at the top/],
    [hours, { site: 'Valley' }, /that there is not: “Valley”; there is “Hill”/],
  ] as const)('is refused with the reason: %j', (body, over, why) => {
    const { made } = forecasts('');
    expect(made.take(published(body, over))).toMatch(why);
    expect(made.night('hill', evening)).toBeUndefined();
    expect(made.states()).toEqual([]);
  });

  it('is no longer believed after half a day, and one that was retained is as old as its first hour', () => {
    const { made, now } = forecasts('');
    made.take(published(longer));
    now.ms = evening + 12 * hourMs + 1;
    expect(made.night('hill', now.ms)).toBeUndefined();
    expect(made.states()[0]?.problem).toMatch(/older than 12 hours/);
    made.take(published(longer, { retain: true, receivedAtMs: now.ms }));
    expect(made.night('hill', now.ms)).toBeUndefined();
    made.take(
      published(
        { issued: new Date(now.ms).toISOString(), hours: longer },
        { retain: true, receivedAtMs: now.ms },
      ),
    );
    expect(made.night('hill', now.ms)).toBeDefined();
  });

  it('and one of an address: the newer counts', async () => {
    const { made, now } = forecasts(`${base}/`);
    made.take(published(hours.map((one) => ({ ...one, temperature: 9 }))));
    now.ms += 60_000;
    await made.onMinute();
    expect(made.night('hill', now.ms)?.minC).toBe(3);
    made.take(
      published(
        hours.map((one) => ({ ...one, temperature: 8 })),
        { receivedAtMs: now.ms + 1 },
      ),
    );
    now.ms += 60_000;
    expect(made.night('hill', now.ms)?.minC).toBe(8);
    expect(made.states()).toHaveLength(2);
  });

  it('is there after a restart, and one of an address that is no longer set is not believed', async () => {
    const { made, store } = forecasts('');
    made.take(published(hours));
    const { made: restarted, set, now } = forecasts('', store);
    expect(restarted.night('hill', evening)?.minC).toBe(3);
    expect(restarted.states()).toHaveLength(1);
    set.address = `${base}/`;
    now.ms += 60_000;
    answer = json(hours.map((one) => ({ ...one, temperature: 7 })));
    await restarted.onMinute();
    expect(restarted.night('hill', now.ms)).toMatchObject({ minC: 7, source: new URL(base).host });
    set.address = '';
    now.ms += 60_000;
    await restarted.onMinute();
    expect(restarted.night('hill', now.ms)).toMatchObject({ minC: 3, source: 'welcomb/$forecast' });
    // What was known at a time stays known of it.
    expect(restarted.night('hill', now.ms - 1)?.minC).toBe(7);
    expect(restarted.night('hill', evening)?.minC).toBe(3);
  });

  it('says so where it can’t be kept', () => {
    const { store } = forecasts('');
    const full = { ...store, keep: () => raise(new Error('the disk is full')) };
    expect(forecasts('', full).made.take(published(hours))).toMatch(/could not be stored: the disk is full/);
  });
});

function raise(error: Error): never {
  throw error;
}
