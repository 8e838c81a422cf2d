/** Mappings from the quarantine to readings, devices with their passwords, and calibrated readings at each resolution. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { isPassword } from '../../server/farm/password.ts';
import { activeMappings } from '../../server/farm/mappings.ts';
import type { TestServer } from './support/server.ts';
import { furnish, nowMs, send, startServer } from './support/server.ts';

let server: TestServer;
const api = (path: string): string => `${server.url}/api/v1${path}`;
const get = async (path: string): Promise<Record<string, unknown> & { items: Record<string, unknown>[] }> =>
  (await (await fetch(api(path))).json()) as never;
beforeAll(async () => {
  server = await startServer();
  furnish(server);
});
afterAll(() => server.stop());
const iso = (ms: number): string => new Date(ms).toISOString();

describe('a mapping', () => {
  const put = (id: string, more: object = {}): Promise<Response> =>
    send(api(`/mappings/${id}`), 'PUT', {
      name: 'Shed',
      mapping: {
        topic: 'shed/+sensor/state',
        sensor: { level: 'sensor' },
        values: [{ quantity: 'weight', pointer: '/kg' }],
      },
      ...more,
    });
  const quarantine = (topic: string, text: string, payloadBytes = text.length) => ({
    topic,
    payload: new TextEncoder().encode(text),
    payloadBytes,
    reason: 'no mapping',
    receivedAtMs: nowMs,
  });

  it('reads what waits in the quarantine for it, leaves the rest, and is in use at once', async () => {
    const quarantined = [
      quarantine('shed/s7/state', '{"kg":12.5}'),
      quarantine('shed/s8/state', '{"kg":"heavy"}'),
      quarantine('shed/s9/state', '{"kg":12.5}', 9000),
    ];
    server.store.ingest.commit({ readings: [], quarantined, lastKnown: [] });
    expect((await put('shed')).status).toBe(200);
    const left = server.store.quarantine.list().map((item) => item.topic);
    expect(left.sort()).toEqual(['shed/s8/state', 'shed/s9/state', 'x/y']);
    const { items } = await get('/channels');
    expect(items.find((channel) => channel['sensor'] === 's7')).toMatchObject({
      quantity: 'weight',
      unit: 'kg',
      latest: { value: 12.5, time: iso(nowMs) },
    });
    expect(activeMappings(server.store).map((mapping) => mapping.name)).toEqual(['Shed']);
  });

  it('judges what it reads from the quarantine, and makes no reading of what the broker had kept', async () => {
    const retained = { ...quarantine('shed/s11/state', '{"kg":12.5}'), retained: true };
    server.store.ingest.commit({
      readings: [],
      quarantined: [quarantine('shed/s10/state', '{"kg":-999}'), retained],
      lastKnown: [],
    });
    expect((await put('shed')).status).toBe(200);
    const { items } = await get('/channels');
    const idOf = (sensor: string): unknown => items.find((channel) => channel['sensor'] === sensor)?.['id'];
    const readingsOf = async (sensor: string) =>
      (await get(`/channels/${String(idOf(sensor))}/readings?from=${iso(nowMs - 1)}&suspect=true`)).items;
    expect(await readingsOf('s10')).toMatchObject([{ value: -999, suspect: 'range' }]);
    expect(await readingsOf('s11')).toEqual([]);
  });

  it('that is switched off is kept and not used', async () => {
    await put('shed', { enabled: false });
    expect(activeMappings(server.store)).toEqual([]);
    expect((await get('/mappings')).items).toMatchObject([{ id: 'shed', enabled: false }]);
  });
});

describe('a file of mappings', () => {
  const mapping = (name: string, topic: string) => ({
    name,
    topic,
    sensor: { text: name },
    values: [{ quantity: 'weight', pointer: '/kg', unit: 'kg' }],
  });
  const takeIn = (...mappings: object[]): Promise<Response> =>
    send(api('/mappings/import'), 'POST', { format: 'welcomb-mappings', version: 1, mappings });
  const names = (): string[] => server.store.mappings.list().map(({ name }) => name);

  it('is taken in whole and in its order, once however often, and what was off stays off', async () => {
    const before = names();
    const file = [
      mapping('zinc', 'b/#'),
      { ...mapping('amber', 'a/#'), enabled: false },
      mapping('opal', 'b/+'),
    ];
    expect(await (await takeIn(...file)).json()).toEqual({ added: 3, already: 0 });
    expect(await (await takeIn(...file, mapping('jade', 'j'))).json()).toEqual({ added: 1, already: 3 });
    expect(names()).toEqual([...before, 'zinc', 'amber', 'opal', 'jade']);
    expect(activeMappings(server.store).map(({ name }) => name)).toEqual(['zinc', 'opal', 'jade']);
  });

  it('with one mapping that is wrong changes nothing, and the refusal names the key', async () => {
    const before = names();
    const answer = await takeIn(mapping('first', 'f'), mapping('second', 's/#/t'));
    expect(answer.status).toBe(400);
    const { detail } = (await answer.json()) as { detail: string };
    expect(detail).toMatch(
      /^Nothing of this file was taken in: mappings\.1\.\S*topic: expected an MQTT topic/,
    );
    expect(names()).toEqual(before);
  });
});

describe('forgetting channels', () => {
  const forget = (ids: unknown): Promise<Response> => send(api('/channels/forget'), 'POST', { ids });
  const made = (sensor: string): number => {
    const reading = { sensor, quantity: 'weight', probe: '', unit: 'kg', value: 1 } as const;
    const readings = [{ ...reading, observedAtMs: nowMs, receivedAtMs: nowMs }];
    server.store.ingest.commit({ readings, quarantined: [], lastKnown: [] });
    return server.store.channels.find(reading)?.id ?? 0;
  };

  it('takes one that stands somewhere where that is said, and its place is free', async () => {
    const id = made('moved-away');
    const assignment = { channelId: id, hiveId: 'n1', place: 'scale', from: new Date(nowMs).toISOString() };
    expect((await send(api('/assignments'), 'POST', assignment)).status).toBe(200);
    expect((await forget([id])).status).toBe(409);
    const answer = await send(api('/channels/forget'), 'POST', { ids: [id], evenAssigned: true });
    expect(await answer.json()).toEqual({ forgotten: 1 });
    expect(server.store.places.assignmentsOfChannel(id)).toEqual([]);
  });

  it('moves one in one request, and leaves it where it stands where that is refused', async () => {
    const id = made('moved');
    const put = (hiveId: string, ms: number, more: object = {}) =>
      send(api('/assignments'), 'POST', { channelId: id, hiveId, place: 'scale', from: iso(ms), ...more });
    const { assignmentsOfChannel, hive, putHive } = server.store.places;
    putHive({ ...hive('n1')!, id: 'n2', name: 'Nuc 2' });
    expect((await put('n1', nowMs)).status).toBe(200);
    const standing = assignmentsOfChannel(id);
    expect((await put('n2', nowMs + 1)).status).toBe(409);
    expect((await put('nowhere', nowMs + 1, { takesOver: true })).status).toBe(409);
    expect((await put('n2', nowMs - 1, { takesOver: true })).status).toBe(409);
    expect(assignmentsOfChannel(id)).toEqual(standing);
    expect((await put('n2', nowMs + 1, { takesOver: true })).status).toBe(200);
    expect(assignmentsOfChannel(id)).toMatchObject([
      { owner: { hiveId: 'n1' }, toMs: nowMs + 1 },
      { owner: { hiveId: 'n2' }, fromMs: nowMs + 1, toMs: null },
    ]);
  });

  it('a scale cannot be assigned as the brood’s thermometer', async () => {
    const id = made('scale-9');
    const assignment = { channelId: id, hiveId: 'n1', place: 'brood', from: new Date(nowMs).toISOString() };
    const answer = await send(api('/assignments'), 'POST', assignment);
    expect(answer.status).toBe(400);
    expect(((await answer.json()) as { detail: string }).detail).toBe(
      'scale-9 sends weight, which can be assigned as scale and not as brood.',
    );
    expect(server.store.places.assignmentsOfChannel(id)).toEqual([]);
  });

  it('a channel bears the name that its sensor sends', async () => {
    const id = made('0101010101010101');
    const name = { kind: 'name', key: '0101010101010101', value: '"Elm 3, scale"' } as const;
    server.store.ingest.commit({ readings: [], quarantined: [], lastKnown: [], announcements: [name] });
    const { items } = await get('/channels');
    expect(items.find((one) => one['id'] === id)).toMatchObject({ name: 'Elm 3, scale', sensor: name.key });
    expect(await (await forget([id])).json()).toEqual({ forgotten: 1 });
  });

  it('takes those that were never assigned, and says how many were there', async () => {
    const ids = [made('made-up-1'), made('made-up-2')];
    expect(await (await forget([...ids, 999_999])).json()).toEqual({ forgotten: 2 });
    const { items } = await get('/channels');
    expect(items.filter(({ id }) => ids.includes(id as number))).toEqual([]);
    expect((await fetch(api(`/channels/${String(ids[0])}/readings`))).status).toBe(404);
  });

  it('refuses all where one stands somewhere, and what is no list of numbers', async () => {
    const channelId = made('standing');
    const standing = {
      channelId,
      owner: { siteId: 's1' },
      position: 'scale',
      fromMs: nowMs,
      toMs: null,
    } as const;
    server.store.places.assign(standing);
    const other = made('made-up-3');
    const answer = await forget([other, channelId]);
    expect(answer.status).toBe(409);
    expect(await answer.json()).toMatchObject({
      detail: expect.stringMatching(/stands at a place or stood there/),
    });
    expect(server.store.channels.get(other)?.readings).toBe(1);
    for (const ids of [[], ['x'], 'all']) expect((await forget(ids)).status).toBe(400);
  });
});

describe('a device', () => {
  it('is stored with a hash, told to the broker, and not made twice', async () => {
    const device = { name: 'scale-9', password: 'long enough' };
    expect((await send(api('/devices'), 'POST', device)).status).toBe(200);
    expect((await send(api('/devices'), 'POST', device)).status).toBe(409);
    const hash = server.store.devices.get('scale-9')?.passwordHash ?? '';
    expect(await isPassword('long enough', hash)).toBe(true);
    expect(server.ingest.told.at(-1)).toBe('devices scale-9');
    expect(JSON.stringify(await get('/devices'))).not.toContain('scrypt');
  });
});

describe('readings', () => {
  const times = async (query: string): Promise<unknown[]> =>
    (await get(`/channels/1/readings?${query}`)).items.map((item) => item['time']);

  it('come raw, oldest first, the suspect one only where it is asked for', async () => {
    const plain = await get('/channels/1/readings?resolution=raw');
    expect(plain.items).toHaveLength(143);
    expect(plain.items[0]).toEqual({ time: iso(nowMs - 86_400_000), value: 12 });
    const all = await get('/channels/1/readings?resolution=raw&suspect=true');
    expect(all.items).toHaveLength(144);
    expect(all.items[100]).toMatchObject({ value: 13, suspect: 'spike' });
  });

  it('are cut at the limit, and go on from the last time', async () => {
    const first = await get('/channels/1/readings?resolution=raw&limit=100');
    expect(first).toMatchObject({ more: true, resolution: 'raw', unit: 'kg' });
    const last = String(first.items.at(-1)?.['time']);
    const rest = await get(`/channels/1/readings?resolution=raw&limit=100&from=${last}`);
    expect(rest.more).toBe(false);
    expect(rest.items[0]).toEqual(first.items.at(-1));
    expect(first.items.length + rest.items.length).toBe(144);
  });

  it('include the start of the span and not its end', async () => {
    const span = `from=${iso(nowMs - 3_600_000)}&to=${iso(nowMs - 1_800_000)}&resolution=raw`;
    expect(await times(span)).toEqual([60, 50, 40].map((minutes) => iso(nowMs - minutes * 60_000)));
  });

  it.each([
    [5000, 'raw', 143],
    [143, 'raw', 143],
    [142, 'hour', 24],
    [20, 'day', 2],
  ])('at a limit of %i come as %s', async (limit, resolution, count) => {
    const found = await get(`/channels/1/readings?limit=${String(limit)}`);
    expect([found['resolution'], found.items.length]).toEqual([resolution, count]);
  });

  it('in hours tell mean, least, most and how many', async () => {
    const { items } = await get('/channels/1/readings?resolution=hour&limit=1');
    expect(items).toEqual([{ time: iso(nowMs - 86_400_000), value: 12.025, min: 12, max: 12.05, count: 6 }]);
  });

  it('are calibrated from the day of the calibration on, unless asked for as they came', async () => {
    const from = iso(nowMs - 3_600_000);
    await send(api('/channels/1/calibrations'), 'POST', { kind: 'offset', from, add: 0.5 });
    const [, calibrated] = [await times('limit=1'), await get('/channels/1/readings?resolution=raw')];
    const raw = await get('/channels/1/readings?resolution=raw&calibrated=false');
    const difference = calibrated.items.map(
      (item, i) => Number(item['value']) - Number(raw.items[i]?.['value']),
    );
    expect(difference.slice(0, -6).every((one) => one === 0)).toBe(true);
    expect(difference.slice(-6).every((one) => Math.abs(one - 0.5) < 1e-9)).toBe(true);
  });
});
