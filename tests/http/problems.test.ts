/** Bad input over real HTTP: problem documents (RFC 9457) that say what and where, and nothing stored. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { pointerTo } from '../../server/http/problem.ts';
import { badRequests, site } from './support/bad-requests.ts';
import type { TestServer } from './support/server.ts';
import { furnish, nowMs, problemOf, send, startServer } from './support/server.ts';

let server: TestServer;
const api = (path: string): string => `${server.url}/api/v1${path}`;
beforeAll(async () => {
  server = await startServer();
  furnish(server);
});
afterAll(() => server.stop());

/** The stable code of each status in the rows. */
const codes: Readonly<Record<number, string>> = {
  400: 'invalid-input',
  404: 'not-found',
  409: 'conflict',
};

describe('bad input', () => {
  it.each(badRequests)('$method $path $body', async ({ method, path, body, status, pointers, sentence }) => {
    const answer = await send(api(path), method, body);
    const problem = await problemOf(answer);
    expect(answer.status).toBe(status);
    expect(problem).toMatchObject({
      type: codes[status],
      status,
      detail: expect.stringMatching(sentence),
    });
    expect((problem.errors ?? []).map((error) => error.pointer)).toEqual(pointers);
  });

  it('stored nothing', () => {
    expect(server.store.places.listSites().map((one) => one.id)).toEqual(['s1']);
    expect(server.store.places.listHives({ retired: true }).map((one) => one.id)).toEqual(['n1', 'p1']);
    expect(server.store.people.audit()).toEqual([]);
    expect(server.store.settings.all().size).toBe(0);
  });

  it('says what is wrong with a body that is no JSON, or not said to be', async () => {
    const post = (body: string, type: string): Promise<Response> =>
      fetch(api('/sites'), { method: 'POST', headers: { 'Content-Type': type }, body });
    expect(await problemOf(await post('{"name":', 'application/json'))).toMatchObject({
      status: 400,
      detail: 'The body of this request is not JSON.',
    });
    expect(await problemOf(await post('name=Hill', 'application/x-www-form-urlencoded'))).toMatchObject({
      status: 415,
    });
    expect(await problemOf(await post(JSON.stringify(site), 'text/plain'))).toMatchObject({ status: 415 });
  });

  it('refuses a path that can’t be decoded', async () => {
    expect(await problemOf(await fetch(`${server.url}/api/v1/nucs/%E0%A4%A`))).toMatchObject({ status: 400 });
  });

  it('keeps the same form sent twice from making two things, and two things from one id', async () => {
    const first = await send(api('/sites'), 'POST', { id: 'twice', ...site });
    const again = await send(api('/sites'), 'POST', { id: 'twice', ...site });
    expect([first.status, again.status]).toEqual([200, 200]);
    const other = await send(api('/sites'), 'POST', { id: 'twice', ...site, name: 'Other' });
    expect((await problemOf(other)).detail).toBe('The id twice belongs to the site Hill.');
    expect(server.store.places.site('twice')?.name).toBe('Hill');
  });

  it('hides its own mistakes from the outside and logs them with their cause', async () => {
    const { status } = server.ingest;
    server.ingest.status = () => {
      throw new Error('secret inner working');
    };
    const problem = await problemOf(await fetch(api('/status')));
    server.ingest.status = status;
    expect(problem).toMatchObject({ status: 500, detail: 'The server made a mistake; its log says which.' });
    expect(server.logged.join('\n')).toContain('secret inner working');
  });
});

describe('the field log', () => {
  const entry = (id: string, more: object = {}) => ({
    type: 'fact',
    id,
    introductionId: 'intro-000001',
    happenedAtMs: nowMs - 3_600_000,
    writtenAtMs: nowMs,
    fact: { kind: 'note' },
    ...more,
  });
  const post = async (entries: unknown[]): Promise<{ id: string; result: string; problems: string[] }[]> => {
    const answer = await send(api('/log'), 'POST', { entries });
    expect(answer.status).toBe(200);
    return ((await answer.json()) as { items: { id: string; result: string; problems: string[] }[] }).items;
  };

  it('answers for each entry, and stores the good ones beside a bad one', async () => {
    const items = await post([entry('note-0001'), entry('note-0002', { introductionId: 'intro-unknown' })]);
    expect(items).toEqual([
      { id: 'note-0001', result: 'stored', problems: [] },
      { id: 'note-0002', result: 'refused', problems: [expect.stringContaining('intro-unknown')] },
    ]);
    expect(await post([entry('note-0001')])).toEqual([
      { id: 'note-0001', result: 'already-there', problems: [] },
    ]);
    expect(server.store.introductions.log('intro-000001').map((one) => one.id)).toEqual(['note-0001']);
  });

  it('has gates and alerts looked at again only where something was stored', async () => {
    server.views.told.length = 0;
    await post([entry('note-0001')]);
    expect(server.views.told).toEqual([]);
    await post([entry('note-0003'), entry('note-0004')]);
    expect(server.views.told).toEqual(['log intro-000001']);
  });
});

describe('a check of the field log', () => {
  it('sees the entries before it, keeps one out by itself, and leaves alone what is stored', async () => {
    const seen: [string, number][] = [];
    const strict = await startServer({
      checkEntry: (one, introduction, log) => {
        seen.push([`${introduction.nucId} ${one.id}`, log.length]);
        return one.note === 'no' ? ['This can’t be.'] : [];
      },
    });
    furnish(strict);
    const entry = (id: string, note: string) => ({
      type: 'fact',
      id,
      introductionId: 'intro-000001',
      happenedAtMs: nowMs,
      writtenAtMs: nowMs,
      note,
      fact: { kind: 'note' },
    });
    const post = async (entries: unknown[]): Promise<unknown> =>
      ((await (await send(`${strict.url}/api/v1/log`, 'POST', { entries })).json()) as { items: unknown })
        .items;
    expect(await post([entry('note-0001', 'a'), entry('note-0002', 'no'), entry('note-0003', 'b')])).toEqual([
      { id: 'note-0001', result: 'stored', problems: [] },
      { id: 'note-0002', result: 'refused', problems: ['This can’t be.'] },
      { id: 'note-0003', result: 'stored', problems: [] },
    ]);
    expect(seen).toEqual([
      ['n1 note-0001', 0],
      ['n1 note-0002', 1],
      ['n1 note-0003', 1],
    ]);
    await post([entry('note-0001', 'a')]);
    expect(seen).toHaveLength(3);
    expect(strict.store.introductions.log('intro-000001').map((one) => one.id)).toEqual([
      'note-0001',
      'note-0003',
    ]);
    await strict.stop();
  });

  it('is not asked about an entry sent twice in one go, nor about an unknown introduction', async () => {
    let asked = 0;
    const strict = await startServer({
      checkEntry: () => {
        asked += 1;
        return [];
      },
    });
    furnish(strict);
    const entry = (introductionId: string) => ({
      type: 'fact',
      id: 'note-0001',
      introductionId,
      happenedAtMs: nowMs,
      writtenAtMs: nowMs,
      fact: { kind: 'note' },
    });
    const answer = await send(`${strict.url}/api/v1/log`, 'POST', {
      entries: [entry('intro-000001'), entry('intro-000001'), entry('intro-unknown')],
    });
    const { items } = (await answer.json()) as { items: { result: string }[] };
    expect(items.map((item) => item.result)).toEqual(['stored', 'already-there', 'refused']);
    expect(asked).toBe(1);
    await strict.stop();
  });
});

// RFC 6901 §5 and §6: the pointers of its example document, as URI fragments.
describe('pointers', () => {
  it.each([
    [[], '#'],
    [['foo'], '#/foo'],
    [['foo', 0], '#/foo/0'],
    [[''], '#/'],
    [['a/b'], '#/a~1b'],
    [['c%d'], '#/c%25d'],
    [['e^f'], '#/e%5Ef'],
    [['g|h'], '#/g%7Ch'],
    [['i\\j'], '#/i%5Cj'],
    [['k"l'], '#/k%22l'],
    [[' '], '#/%20'],
    [['m~n'], '#/m~0n'],
  ])('%j → %s', (path, pointer) => {
    expect(pointerTo(path)).toBe(pointer);
  });
});
