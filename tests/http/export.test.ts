/** Everything out and in again over real HTTP, and CSV as an independent parser reads it. */
import { connect } from 'node:net';
import { parse } from 'csv-parse/sync';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import * as z from 'zod';
import { lineSchema } from '../../server/http/export/lines.ts';
import { importReportSchema, type ImportReport } from '../../server/http/export/import-report.ts';
import type { TestServer } from './support/server.ts';
import {
  cookieFrom,
  furnish,
  nowMs,
  passwordOf,
  person,
  problemOf,
  send,
  startServer,
} from './support/server.ts';

let from: TestServer;
const lineKinds = new Set(lineSchema.options.map(({ shape }) => shape.kind.value as string));
const day = 86_400_000;
const iso = (ms: number): string => new Date(ms).toISOString();
const get = (server: TestServer, path: string): Promise<Response> =>
  fetch(`${server.url}/api/v1/export${path}`);
const exported = async (server: TestServer, readings = 'raw'): Promise<string> =>
  (await get(server, `/everything.jsonl?readings=${readings}`)).text();
const take = (
  server: TestServer,
  path: string,
  body: string | Uint8Array<ArrayBuffer>,
  type = 'application/jsonl',
): Promise<Response> =>
  fetch(`${server.url}/api/v1/import${path}`, {
    method: 'POST',
    headers: { 'Content-Type': type },
    body,
  });
const reportOf = async (response: Response): Promise<ImportReport> => {
  expect(response.status).toBe(200);
  return importReportSchema.parse(await response.json());
};

function furnishMore(server: TestServer): void {
  const { store } = server;
  // A parent that sorts after its nuc, and a name that a spreadsheet would run.
  store.places.putHive({
    id: 'p2',
    siteId: 's1',
    role: 'parent',
    name: 'Zelkova',
    box: {},
    createdAtMs: nowMs,
  });
  store.places.putHive({
    id: 'n2',
    siteId: 's1',
    role: 'nuc',
    name: '=HYPERLINK("x")',
    parentHiveId: 'p2',
    box: { kind: 'polystyrene', emptyKg: 3.5 },
    createdAtMs: nowMs,
    retiredAtMs: nowMs,
  });
  store.queens.putArrival({
    id: 'a1',
    name: 'First parcel',
    source: 'Line 7',
    expected: '2031-05-20',
    queens: 2,
    state: 'ordered',
    dead: 0,
  });
  store.queens.putQueen({ id: 'q1', arrivalId: 'a1', source: 'Line 7', line: 'dark' });
  store.introductions.open({
    id: 'intro-000002',
    nucId: 'n2',
    startingPoint: 'planned-split',
    method: 'candy-cage',
    queenId: 'q1',
    arrivalId: 'a1',
    setup: { plannedSplit: iso(nowMs) },
    openedAtMs: nowMs,
    closedAtMs: nowMs + day,
  });
  store.hiveVisits.add({
    id: 'visit-0001',
    hiveId: 'p2',
    kind: 'frames-taken',
    by: 'Maren',
    note: 'two frames',
    happenedAtMs: nowMs - 2000,
    writtenAtMs: nowMs,
    withdrawnAtMs: nowMs,
  });
  const common = { happenedAtMs: nowMs - 1000, writtenAtMs: nowMs, introductionId: 'intro-000001' };
  store.introductions.append([
    { type: 'fact', id: 'note-0001', ...common, note: 'calm, "quiet"\r\nand warm', fact: { kind: 'note' } },
    { type: 'fact', id: 'fed-00001', ...common, fact: { kind: 'fed', feed: 'syrup', kilograms: 0.5 } },
    { type: 'correction', id: 'move-0001', ...common, corrects: 'fed-00001', moveTo: 'intro-000002' },
  ]);
  store.channels.calibrate(1, nowMs - day / 2, { kind: 'tare', rawNow: 12 }, 'Rowan');
  store.places.assign({
    channelId: 1,
    owner: { hiveId: 'n1' },
    position: 'scale',
    fromMs: nowMs - day,
    toMs: nowMs,
  });
  store.places.assign({
    channelId: 2,
    owner: { siteId: 's1' },
    position: 'outside',
    fromMs: nowMs - day,
    toMs: null,
  });
  store.mappings.put({ id: 'm1', name: 'Shed', enabled: false, mapping: { topic: 'a/b' } });
  store.settings.put('farm', { farmName: 'Hillside' }, { by: 'Rowan' });
  store.settings.put('telling/mail', { secret: 'hush' }, { by: 'Rowan', secret: true });
  store.quarantine.add([
    {
      topic: 'attic/odd',
      payload: Buffer.from([0xff, 0]),
      payloadBytes: 2,
      reason: 'unknown',
      receivedAtMs: nowMs,
      retained: true,
    },
  ]);
  store.forecasts.keep({
    kind: 'topic',
    siteId: null,
    source: 'weather',
    saidAtMs: nowMs,
    knownAtMs: nowMs,
    hours: [{ atMs: nowMs, temperatureC: 4 }],
  });
  store.marks.setAll(
    new Map([
      ['calendar start step-1', nowMs],
      ['calendar revision step-1', 2],
    ]),
  );
  store.alerts.save({
    id: 'chill:n1',
    ruleId: 'chill',
    subject: { kind: 'nuc', id: 'n1' },
    phase: 'cleared',
    urgency: 'now',
    open: false,
    changedAtMs: nowMs,
    state: { since: 1 },
    message: { todo: 'x' },
  });
}

beforeAll(async () => {
  from = await startServer();
  furnish(from);
  furnishMore(from);
});
afterAll(() => from.stop());

describe('everything', () => {
  const lines = (text: string): unknown[] =>
    text
      .trimEnd()
      .split('\n')
      .map((line) => JSON.parse(line) as unknown);

  it('is lines as the published schema says, whole, and without secrets', async () => {
    const answer = await get(from, '/everything.jsonl');
    expect(answer.headers.get('content-type')).toBe('application/jsonl; charset=utf-8');
    expect(answer.headers.get('content-disposition')).toBe('attachment; filename="welcomb-2031-05-10.jsonl"');
    const text = await answer.text();
    const schema = z.fromJSONSchema((await (await get(from, '/lines.schema.json')).json()) as never);
    for (const line of lines(text)) {
      expect(lineSchema.safeParse(line).error?.message).toBeUndefined();
      expect(schema.safeParse(line).success, JSON.stringify(line).slice(0, 200)).toBe(true);
    }
    expect(lines(text).at(-1)).toEqual({ kind: 'end', lines: lines(text).length - 1 });
    expect(text).not.toMatch(/hush|calendar-key|scrypt/);
    const kinds = new Set(lines(text).map((line) => (line as { kind: string }).kind));
    // Buckets and what is past come where raw readings are gone.
    expect([...lineKinds].filter((kind) => !kinds.has(kind))).toEqual(['buckets', 'past']);
  });

  it('that is another file is left after a thousand bad lines, with a word and what was good so far', async () => {
    const to = await startServer();
    const [head = '', ...rest] = (await exported(from)).split('\n');
    const site = rest.find((line) => line.includes('"kind":"site"')) ?? '';
    const bad = '{"kind":"no such thing"}\n'.repeat(200_000);
    const report = await reportOf(await take(to, '/everything.jsonl', `${head}\n${site}\n${bad}${site}\n`));
    expect(report).toMatchObject({ added: 1, alreadyThere: 0, moreRefused: 900, complete: false });
    expect(report.refused).toHaveLength(100);
    expect(report.stopped).toMatch(/^Stopped at line 1002: 1000 lines could not be taken in/);
    const rows = `time,value\n2031-05-01T00:00:00Z,12.5\n${'x,y\n'.repeat(200_000)}`;
    const csv = await reportOf(
      await take(to, '/readings.csv?sensor=s&quantity=weight&unit=kg', rows, 'text/csv'),
    );
    expect(csv).toMatchObject({ added: 1, moreRefused: 900, complete: false });
    expect(csv.stopped).toMatch(/^Stopped at line 1002/);
    // A long list with a fault in every place is one fault, and a line keeps no more of itself than a sentence.
    const channel = { sensor: 's', quantity: 'weight', probe: '', unit: 'kg' };
    const long = [Array.from({ length: 5000 }, () => 0), Array.from({ length: 5001 }, () => 0)];
    const lists = long.map((readings) => JSON.stringify({ kind: 'readings', channel, readings }));
    const deep = JSON.stringify({
      kind: 'setting',
      key: 'x'.repeat(100_000),
      value: 1,
      [`${'y'.repeat(1000)}`]: 0,
    });
    const faults = await reportOf(await take(to, '/everything.jsonl', [head, ...lists, deep].join('\n')));
    expect(faults.refused.map(({ detail }) => detail.slice(0, 40))).toEqual([
      'readings.0: not as the schema of a line ',
      'readings: at most 5000 in a line',
      expect.stringContaining('key'),
    ]);
    await to.stop();
  }, 60_000);

  it('comes back the same from a server that took it in, and a second time adds nothing', async () => {
    const to = await startServer();
    const text = await exported(from);
    const first = await reportOf(await take(to, '/everything.jsonl', text));
    expect(first).toMatchObject({ refused: [], moreRefused: 0, complete: true });
    const withoutHead = (all: string): unknown[] => lines(all).slice(1);
    expect(withoutHead(await exported(to))).toEqual(withoutHead(text));
    const second = await reportOf(await take(to, '/everything.jsonl', text));
    expect(second).toMatchObject({ added: 0, refused: [], complete: true });
    expect(to.views.told.filter((one) => one === 'import')).toHaveLength(2);
    expect(to.store.people.audit()[1]?.what).toBe(`imported a file (${String(first.added)} added)`);
    await to.stop();
  });

  it('comes with hours or days instead of raw readings, which an import leaves out', async () => {
    const text = await exported(from, 'hour');
    const buckets = lines(text).filter((line) => (line as { kind: string }).kind === 'buckets');
    expect(buckets).toMatchObject([
      { size: 'hour', buckets: expect.any(Array) as unknown },
      { size: 'hour' },
    ]);
    const to = await startServer();
    const report = await reportOf(await take(to, '/everything.jsonl', text));
    expect(report.refused).toEqual([]);
    expect(to.store.channels.list()).toMatchObject([
      { sensor: 'scale-1', readings: 0, latest: null },
      { readings: 0, latest: null },
    ]);
    await to.stop();
  });

  it('never changes what is there, and says which lines it could not take', async () => {
    const to = await startServer();
    to.store.places.putSite({ id: 's1', name: 'Mine', timeZone: 'UTC', latDeg: 0, lonDeg: 0 });
    const head = JSON.stringify({
      kind: 'welcomb-export',
      format: 1,
      version: 'x',
      exportedAt: iso(nowMs),
    });
    const bad = [
      head,
      JSON.stringify({ kind: 'site', id: 's1', name: 'Theirs', timeZone: 'UTC', latDeg: 1, lonDeg: 1 }),
      '{"kind":"site","id":"s2"',
      JSON.stringify({ kind: 'site', id: 's2', name: 'Far', timeZone: 'UTC', latDeg: 91, lonDeg: 0 }),
      JSON.stringify({ kind: 'hive', id: 'n1', name: 'N', siteId: 'none', createdAt: iso(nowMs) }),
      JSON.stringify({
        kind: 'introduction',
        id: 'intro-000009',
        nucId: 'n1',
        startingPoint: 'planned-split',
        method: 'candy-cage',
        setup: {},
        openedAt: '0001-01-01T00:00:00Z',
      }),
      JSON.stringify({ kind: 'setting', key: 'telling/mail', value: 1 }),
      JSON.stringify({ kind: 'end', lines: 99 }),
    ].join('\r\n');
    const report = await reportOf(await take(to, '/everything.jsonl', bad));
    expect(report).toMatchObject({ added: 0, alreadyThere: 1, complete: false });
    expect((report['refused'] as { line: number }[]).map((one) => one.line)).toEqual([3, 4, 5, 6]);
    expect(report.refused.at(-1)?.detail).toMatch(/openedAt: a time from 1970 to 2200/);
    expect(to.store.places.listSites()).toMatchObject([{ name: 'Mine', latDeg: 0 }]);
    expect(to.store.settings.get('telling/mail')).toBeUndefined();
    await to.stop();
  });

  it('takes no address, no folder and no setting that it does not know, and says so', async () => {
    const to = await startServer();
    const head = { kind: 'welcomb-export', format: 1, version: 'x', exportedAt: iso(nowMs) };
    const setting = (key: string, value: unknown) => ({ kind: 'setting', key, value });
    const hostile = [
      head,
      setting('farm', {
        farmName: 'Hillside',
        heartbeatUrl: 'https://attacker.test/beat',
        forecastUrl: 'https://attacker.test/hours',
        backupFolder: '/srv/public',
        rawKeepDays: 30,
        backupKeep: 'none',
        program: 'rm',
      }),
      setting('internal/calendar-key', 'k'.repeat(50)),
      setting('telling/mail', { id: 'mail' }),
      setting('anything', 1),
      setting('rule limits', { farm: { 'box-gone': { holdMin: 1e9, on: 1 } } }),
      setting('plan/unavailable', 'never'),
    ];
    const report = await reportOf(
      await take(to, '/everything.jsonl', hostile.map((line) => JSON.stringify(line)).join('\n')),
    );
    expect(to.store.settings.get('farm')).toEqual({ farmName: 'Hillside' });
    expect(to.store.settings.get('rule limits')).toMatchObject({ farm: { 'box-gone': { on: 1 } } });
    expect([...to.store.settings.all().keys()].filter((key) => key !== 'internal/calendar-key')).toEqual([
      'farm',
      'rule limits',
    ]);
    expect(to.store.settings.get('internal/calendar-key')).not.toBe('k'.repeat(50));
    expect(report).toMatchObject({ added: 2, leftOut: 5, refused: [] });
    const told = (report['settingsLeftOut'] as { line: number; detail: string }[]).map(
      ({ line, detail }) => `${String(line)} ${detail.split(':')[0] ?? ''}`,
    );
    expect(told.sort()).toEqual([
      '2 farm.backupFolder',
      '2 farm.backupKeep',
      '2 farm.forecastUrl',
      '2 farm.heartbeatUrl',
      '2 farm.program',
      '2 farm.rawKeepDays',
      '3 internal/calendar-key',
      '4 telling/mail',
      '5 anything',
      '6 rule limits.farm.box-gone.holdMin',
      '7 plan/unavailable',
    ]);
    await to.stop();
  });

  it('is refused as a whole where it is something else', async () => {
    const cases: {
      body: string | Uint8Array<ArrayBuffer>;
      type: string;
      status: number;
      sentence: RegExp;
    }[] = [
      {
        body: '{"kind":"site"}\n',
        type: 'application/jsonl',
        status: 400,
        sentence: /no export that can be read here/,
      },
      {
        body: '{"kind":"welcomb-export","format":2,"version":"9","exportedAt":"2031-05-10T06:00:00Z"}',
        type: 'application/jsonl',
        status: 400,
        sentence: /format 1/,
      },
      {
        body: new Uint8Array([0xff, 0xfe, 0x00]),
        type: 'application/jsonl',
        status: 400,
        sentence: /not UTF-8/,
      },
      { body: 'x'.repeat(2_100_000), type: 'application/jsonl', status: 413, sentence: /too long/ },
      { body: '{}', type: 'application/json', status: 415, sentence: /application\/jsonl/ },
    ];
    for (const { body, type, status, sentence } of cases) {
      const problem = await problemOf(await take(from, '/everything.jsonl', body, type));
      expect(problem).toMatchObject({ status, detail: expect.stringMatching(sentence) });
    }
  });
});

/** The statuses of the answers on one connection over which everything is sent at once: as many as are wanted, or until it is closed. */
async function statusesOn(
  { url }: TestServer,
  sent: readonly (string | Buffer)[],
  wanted: number,
): Promise<number[]> {
  const socket = connect(Number(new URL(url).port), '127.0.0.1');
  let said = '';
  const statuses = (): number[] => [...said.matchAll(/HTTP\/1\.1 (\d+)/g)].map(([, code]) => Number(code));
  socket.setEncoding('utf8');
  for (const piece of sent) socket.write(piece);
  for await (const piece of socket as AsyncIterable<string>) {
    said += piece;
    if (statuses().length === wanted) break;
  }
  return statuses();
}

describe('a connection on which a file was refused', () => {
  const long = (text: string): Buffer => Buffer.from(text.repeat(Math.ceil(9_000_000 / text.length)));
  const csv = 'import/readings.csv?sensor=s&quantity=weight&unit=kg';
  const everything = 'import/everything.jsonl';
  it.each([
    { name: 'small', path: everything, type: 'application/jsonl', body: Buffer.from('{}'), status: 400 },
    { name: 'a line too long', path: everything, type: 'application/jsonl', body: long('x'), status: 413 },
    {
      name: 'not UTF-8',
      path: everything,
      type: 'application/jsonl',
      body: long('x').fill(0xff),
      status: 400,
    },
    { name: 'a record too long', path: csv, type: 'text/csv', body: long('x'), status: 400 },
    { name: 'JSON too large', path: 'log', type: 'application/json', body: long('x'), status: 413 },
    { name: 'rows that are none', path: csv, type: 'text/csv', body: long('a,b\n'), status: 200 },
  ])('answers the next request: $name', async ({ path, type, body, status }) => {
    const host = 'Host: 127.0.0.1\r\n';
    const head = `POST /api/v1/${path} HTTP/1.1\r\n${host}Content-Type: ${type}\r\nContent-Length: ${String(body.length)}\r\n\r\n`;
    const sent = [head, body, `GET /healthz HTTP/1.1\r\n${host}\r\n`];
    expect(await statusesOn(from, sent, 2)).toEqual([status, 200]);
  });
});

describe('CSV of readings', () => {
  it('tells raw readings, calibrated or not, suspects only when asked', async () => {
    const answer = await get(from, '/channels/1.csv');
    expect(answer.headers.get('content-type')).toBe('text/csv; charset=utf-8; header=present');
    expect(answer.headers.get('content-disposition')).toBe('attachment; filename="scale-1-weight-raw.csv"');
    const text = await answer.text();
    expect(text.split('\r\n')[0]).toBe('time,value,unit,suspect');
    const rows = parse(text, { columns: true }) as unknown as Record<string, string>[];
    expect(rows).toHaveLength(143);
    expect(rows[0]).toEqual({ time: iso(nowMs - day), value: '12', unit: 'kg', suspect: '' });
    expect(Number(rows.at(-1)?.['value'])).toBeCloseTo(1.43, 6);
    const raw = await (await get(from, '/channels/1.csv?calibrated=false&suspect=true')).text();
    expect(raw).toContain('13,kg,spike');
    expect(raw.trimEnd().split('\r\n')).toHaveLength(145);
  });

  it('tells hours with a negative temperature as a number', async () => {
    const text = await (await get(from, '/channels/2.csv?resolution=hour')).text();
    const rows = parse(text, { columns: true }) as unknown as Record<string, string>[];
    expect(rows[0]).toEqual({
      time: iso(nowMs - day),
      mean: '-3.475',
      min: '-3.5',
      max: '-3.45',
      count: '6',
      unit: 'Cel',
    });
  });

  it('says what is wrong with the request', async () => {
    expect(await problemOf(await get(from, '/channels/99.csv'))).toMatchObject({ status: 404 });
    expect(await problemOf(await get(from, '/channels/1.csv?resolution=year'))).toMatchObject({
      status: 400,
    });
  });

  it('comes in again as readings of another channel, in any known unit', async () => {
    const to = await startServer();
    const text = await (await get(from, '/channels/1.csv?calibrated=false&suspect=true')).text();
    const report = await reportOf(
      await take(to, '/readings.csv?sensor=old&quantity=weight', text, 'text/csv'),
    );
    expect(report).toMatchObject({ added: 144, alreadyThere: 0, refused: [], complete: true });
    const again = await reportOf(
      await take(to, '/readings.csv?sensor=old&quantity=weight', text, 'text/csv'),
    );
    expect(again).toMatchObject({ added: 0, alreadyThere: 144 });
    const pounds = `\uFEFFvalue,time\r\n10,${iso(nowMs)}\r\n`;
    await take(to, '/readings.csv?sensor=us&quantity=weight&unit=lb', pounds, 'text/csv');
    const channel = to.store.channels.list().find((one) => one.sensor === 'us');
    expect(channel?.latest?.value).toBeCloseTo(4.535924, 6);
    await to.stop();
  });

  it('takes the good rows and names the bad ones', async () => {
    const to = await startServer();
    const rows = [
      'time,value,suspect',
      `${iso(nowMs)},1.5,`,
      'yesterday,1.5,',
      `${iso(nowMs + 1)},NaN,`,
      `${iso(nowMs + 2)},"1,5",`,
      `${iso(nowMs + 3)},2.5,odd`,
      `${iso(nowMs + 4)},2.5,spike`,
    ].join('\n');
    const report = await reportOf(await take(to, '/readings.csv?sensor=s&quantity=weight', rows, 'text/csv'));
    expect(report['added']).toBe(2);
    expect((report['refused'] as { line: number }[]).map((one) => one.line)).toEqual([3, 4, 5, 6]);
    const crooked = `${rows}\n${iso(nowMs + 5)},1,2,3,4`;
    expect(
      await problemOf(await take(to, '/readings.csv?sensor=s&quantity=weight', crooked, 'text/csv')),
    ).toMatchObject({
      status: 400,
      detail: expect.stringContaining('what came before was taken in'),
    });
    const others = ['{"kind":"welcomb-export"}', `${rows}\n"2031`, `${rows}\n"1"2,3`, 'x'.repeat(11_000)];
    for (const other of ['time;value\n2031-05-01T00:00:00Z;1,5', ...others]) {
      const refused = await problemOf(
        await take(to, '/readings.csv?sensor=s&quantity=weight', other, 'text/csv'),
      );
      expect(refused).toMatchObject({
        status: 400,
        detail: expect.stringMatching(
          /^This file is not CSV as expected in line \d+: (it has more|a quote|it is longer)/,
        ),
      });
    }
    expect(await problemOf(await take(to, '/readings.csv?sensor=s', rows, 'text/csv'))).toMatchObject({
      errors: [{ pointer: '#/quantity', detail: expect.any(String) as unknown }],
    });
    await to.stop();
  });
});

describe('CSV of the log and of outcomes', () => {
  it('tells each entry once, quotes and breaks kept', async () => {
    const rows = parse(await (await get(from, '/log.csv')).text(), { columns: true }) as unknown as Record<
      string,
      string
    >[];
    expect(rows.map((row) => [row['id'], row['nuc'], row['kind'], row['corrects']])).toEqual([
      ['fed-00001', 'Nuc 1', 'fed', ''],
      ['move-0001', 'Nuc 1', '', 'fed-00001'],
      ['note-0001', 'Nuc 1', 'note', ''],
    ]);
    expect(rows[2]?.['note']).toBe('calm, "quiet"\r\nand warm');
    expect(JSON.parse(rows[0]?.['details'] ?? '')).toEqual({ kind: 'fed', feed: 'syrup', kilograms: 0.5 });
  });

  it('defuses what a spreadsheet would run', async () => {
    const text = await (await get(from, '/outcomes.csv')).text();
    const rows = parse(text, { columns: true }) as unknown as Record<string, string>[];
    expect(rows).toMatchObject([{ nuc: "'=cmd()", site: 'Lower field', startingPoint: 'planned-split' }]);
  });
});

describe('who may', () => {
  it('nobody without signing in; viewers tables, keepers everything', async () => {
    const server = await startServer();
    await person(server, 'Rowan', 'keeper');
    await person(server, 'Ash', 'viewer');
    const signedIn = await send(`${server.url}/api/v1/session`, 'POST', {
      name: 'Ash',
      password: passwordOf('Ash'),
    });
    const headers = { Cookie: cookieFrom(signedIn) ?? '', Origin: server.url };
    const status = async (path: string, more: object = {}): Promise<number> =>
      (await fetch(`${server.url}/api/v1${path}`, { headers, ...more })).status;
    expect(await status('/export/log.csv')).toBe(200);
    expect(await status('/export/everything.jsonl')).toBe(403);
    expect(await status('/import/everything.jsonl', { method: 'POST' })).toBe(403);
    expect((await get(server, '/log.csv')).status).toBe(401);
    await server.stop();
  });
});
