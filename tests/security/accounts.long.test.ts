/** The first password, new passwords, guessing, names, and who wrote an entry. */
import { existsSync, mkdtempSync, readFileSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { wrongForAccount, wrongPasswords } from '../../server/http/access/limits.ts';
import { passwordProblem, tooEasy } from '../../server/farm/password-strength.ts';
import { createSetupCode, setupCodeFile, wrongCodes } from '../../server/http/access/setup-code.ts';
import { UserError } from '../../server/user-error.ts';
import type { TestServer } from '../http/support/server.ts';
import {
  cookieFrom,
  furnish,
  nowMs,
  passwordOf,
  person,
  problemOf,
  send,
  startServer,
} from '../http/support/server.ts';
import { visitors } from '../http/support/sign-in.ts';

let server: TestServer;
afterEach(() => server.stop());
const { api, signIn, cookieOf, as } = visitors(() => server);
const statusOf = async (answer: Promise<Response>): Promise<number> => (await answer).status;

describe('the first password', () => {
  const rowan = { name: 'Rowan', password: passwordOf('Rowan') };

  it('takes the setup code, once, in any way that people type it', async () => {
    server = await startServer();
    const { text, file } = server.setupCode;
    expect(text).toMatch(/^[0-9A-HJKMNP-TV-Z]{4}-[0-9A-HJKMNP-TV-Z]{4}$/);
    expect([readFileSync(file ?? '', 'utf8'), statSync(file ?? '').mode & 0o777]).toEqual([
      `${text}\n`,
      0o600,
    ]);
    const set = (more: object) => send(api('/password'), 'POST', { ...rowan, ...more });
    const asked = await problemOf(await set({}));
    expect(asked).toMatchObject({ status: 403, detail: expect.stringContaining(setupCodeFile) });
    expect(await statusOf(set({ code: 'AAAA-AAAA' }))).toBe(403);
    expect(server.store.people.list()).toEqual([]);
    expect(await statusOf(set({ code: ` ${text.toLowerCase().replace('-', ' ')}` }))).toBe(200);
    expect(existsSync(file ?? '')).toBe(false);
  });

  it('has no other way in: neither another person nor a backup comes without the code', async () => {
    server = await startServer();
    const person = { ...rowan, role: 'keeper' };
    expect(await problemOf(await send(api('/people'), 'POST', person))).toMatchObject({ status: 409 });
    expect(await statusOf(send(api('/restore'), 'POST', { file: 'x.sqlite' }))).toBe(403);
    const upload = (headers: Record<string, string>): Promise<Response> =>
      fetch(api('/restore/upload'), {
        method: 'POST',
        body: 'SQLite format 3\0',
        headers: { 'Content-Type': 'application/vnd.sqlite3', ...headers },
      });
    expect(await statusOf(upload({}))).toBe(403);
    expect(await statusOf(upload({ 'X-Setup-Code': 'AAAA-AAAA' }))).toBe(403);
    // With the code both go on to say that this server can't restore.
    const { text } = server.setupCode;
    expect(await statusOf(upload({ 'X-Setup-Code': text }))).toBe(409);
    expect(await statusOf(send(api('/restore'), 'POST', { file: 'x.sqlite', code: text }))).toBe(404);
  });

  it('ends guessing the code, and takes the right one a quarter of an hour later', async () => {
    server = await startServer();
    const folder = mkdtempSync(join(tmpdir(), 'welcomb-code-'));
    const code = createSetupCode(folder);
    const tried = (given: string, atMs: number): string => {
      try {
        code.check(given, atMs);
        return 'right';
      } catch (error) {
        return error instanceof UserError ? error.code : 'another error';
      }
    };
    for (let i = 0; i < wrongCodes; i += 1)
      expect(tried(`AAAA-${String(1000 + i)}`, nowMs + i)).toBe('setup-code-required');
    expect(tried(code.text, nowMs + 1000)).toBe('too-many-attempts');
    expect(tried(code.text, nowMs + 1000 + 15 * 60_000)).toBe('right');
    code.end();
    expect(tried(code.text, nowMs + 1000 + 15 * 60_000)).toBe('setup-code-required');
    rmSync(folder, { recursive: true });
  });
});

describe('a new password', () => {
  const change = (cookie: string, body: object): Promise<Response> =>
    send(api('/password/change'), 'POST', body, as(cookie));
  const next = 'seven lanterns under water';

  it('takes the old one, and ends other sessions and the API tokens', async () => {
    server = await startServer();
    await person(server, 'Rowan', 'keeper');
    await person(server, 'Ash', 'keeper');
    const [here, elsewhere, other] = [
      await cookieOf('Rowan'),
      await cookieOf('Rowan'),
      await cookieOf('Ash'),
    ];
    const make = async (cookie: string): Promise<string> => {
      const made = await send(api('/tokens'), 'POST', { name: 't', scope: 'all' }, as(cookie));
      return ((await made.json()) as { token: string }).token;
    };
    const works = async (headers: Record<string, string>): Promise<boolean> =>
      (await fetch(api('/sites'), { headers })).status === 200;
    const [token, others] = [await make(here), await make(other)];
    expect(await problemOf(await change(here, { current: 'not it at all', password: next }))).toMatchObject({
      status: 403,
    });
    const changed = await change(here, { current: passwordOf('Rowan'), password: next });
    const cookie = cookieFrom(changed) ?? '';
    expect([
      await works({ Cookie: cookie }),
      await works({ Cookie: here }),
      await works({ Cookie: elsewhere }),
      await works({ Authorization: `Bearer ${token}` }),
      await works({ Authorization: `Bearer ${others}` }),
    ]).toEqual([true, false, false, false, true]);
    expect(server.store.people.audit()[0]?.what).toBe('changed the password; 1 API key ended');
    // Where it is asked for, the tokens stay.
    const kept = await make(cookie);
    const again = { current: next, password: `${next} again`, keepTokens: true };
    expect(await statusOf(change(cookie, again))).toBe(200);
    expect(await works({ Authorization: `Bearer ${kept}` })).toBe(true);
    // A token is no person.
    const byToken = { Authorization: `Bearer ${kept}` };
    expect(await statusOf(send(api('/password/change'), 'POST', again, byToken))).toBe(403);
  });

  it('is none that a guesser tries first', async () => {
    for (const easy of ['aaaaaaaaaa', 'password123', '1234567890', 'qwertzuiop', 'Welcomb123', 'rowanrowan'])
      expect([easy, await passwordProblem(easy, ['Rowan'])]).toEqual([easy, tooEasy]);
    for (const good of [passwordOf('Rowan'), next, 'K\u00f6nigin der Nacht 7'])
      expect([good, await passwordProblem(good, ['Rowan'])]).toEqual([good, null]);
    server = await startServer();
    await person(server, 'Rowan', 'keeper');
    const cookie = await cookieOf('Rowan');
    const added = await send(
      api('/people'),
      'POST',
      { name: 'Ash', role: 'viewer', password: 'rowanrowan1' },
      as(cookie),
    );
    expect(await problemOf(added)).toMatchObject({ status: 409, detail: expect.stringContaining('guesser') });
    expect(await statusOf(change(cookie, { current: passwordOf('Rowan'), password: 'password123' }))).toBe(
      409,
    );
  }, 60_000);
});

describe('names of people', () => {
  const add = async (name: string): Promise<string> => {
    const body = { name, role: 'viewer', password: passwordOf('x') };
    const answer = await send(api('/people'), 'POST', body, as(await cookieOf('Rowan')));
    if (answer.ok) return ((await answer.json()) as { name: string }).name;
    return (await problemOf(answer)).detail;
  };

  it('hide nothing, mix no scripts and look like nobody else’s', async () => {
    server = await startServer();
    await person(server, 'Rowan', 'keeper');
    expect(await add('Ro\u200bwan')).toMatch(/can’t be seen/);
    expect(await add('Ash\u202egnorw')).toMatch(/can’t be seen/);
    expect(await add('Ash\u0007')).toMatch(/can’t be seen/);
    expect(await add('R\u043ewan')).toMatch(/different scripts/);
    expect(await add('rowan')).toBe('There is somebody named rowan already.');
    expect(await add('R0wan')).toMatch(/looks like that of Rowan/);
    expect(await add('12')).toMatch(/no letter/);
    expect(await add(' Jo\u0308rg \u00a0 M. ')).toBe('J\u00f6rg M.');
    // Written all in Cyrillic letters that look like Latin ones.
    expect(await add('\u0410\u0440\u0435')).toBe('\u0410\u0440\u0435');
    expect(await add('Ape')).toMatch(/looks like/);
  }, 60_000);
});

describe('guessing the password of one account', () => {
  const from = (address: string) => ({ 'X-Forwarded-For': address });

  it('ends after thirty from any addresses; who signed in before still can', async () => {
    server = await startServer({ settings: { trustedProxies: ['loopback'] } });
    const { people } = server.store;
    const rowan = await person(server, 'Rowan', 'keeper');
    await person(server, 'Ash', 'viewer');
    const home = from('192.0.2.1');
    expect(await statusOf(signIn('Rowan', undefined, home))).toBe(200);
    // A hash that is refused at once: thirty real ones would take half a minute.
    people.setPassword(rowan.id, 'none');
    // However it is written: it is one account.
    const ways = ['Rowan', 'ROWAN', 'rowan', ' Rowan\u00a0'];
    for (let i = 0; i < wrongForAccount; i += 1) {
      const address = `198.51.100.${String(Math.floor(i / (wrongPasswords - 1)))}`;
      expect(await statusOf(signIn(ways[i % 4] ?? '', `guess ${String(i)}`, from(address)))).toBe(401);
    }
    people.setPassword(rowan.id, rowan.passwordHash);
    const stopped = await signIn('Rowan', undefined, from('203.0.113.7'));
    expect(await problemOf(stopped)).toMatchObject({
      status: 429,
      detail: expect.stringContaining('this name'),
    });
    expect(await statusOf(signIn('Rowan', undefined, home))).toBe(200);
    expect(await statusOf(signIn('Ash', undefined, from('203.0.113.7')))).toBe(200);
  }, 60_000);
});

describe('an entry of the log', () => {
  it('is by who sends it, and says for whom', async () => {
    server = await startServer();
    furnish(server);
    await person(server, 'Rowan', 'keeper');
    await person(server, 'Ash', 'helper');
    const note = (id: string, more: object = {}) => ({
      type: 'fact',
      id,
      introductionId: 'intro-000001',
      happenedAtMs: 1,
      writtenAtMs: 1,
      fact: { kind: 'note' },
      ...more,
    });
    const old = note('note-old01', { by: 'Somebody of before' });
    server.store.introductions.append([old as never]);
    const post = async (entries: object[], name = 'Ash'): Promise<string[]> => {
      const answer = await send(api('/log'), 'POST', { entries }, as(await cookieOf(name)));
      return ((await answer.json()) as { items: { result: string }[] }).items.map((item) => item.result);
    };
    const entries = [note('note-0001'), note('note-0002', { by: 'Rowan' }), note('note-0003', { by: 'Ash' })];
    expect(await post(entries)).toEqual(['stored', 'stored', 'stored']);
    const kept = (id: string) => {
      const { by, onBehalfOf } = server.store.introductions.entry(id) ?? {};
      return [by, onBehalfOf];
    };
    expect(['note-0001', 'note-0002', 'note-0003'].map(kept)).toEqual([
      ['Ash', undefined],
      ['Ash', 'Rowan'],
      ['Ash', undefined],
    ]);
    // Sent again, by whomever: stored once, as it was.
    expect(await post([...entries, old])).toEqual(Array.from({ length: 4 }, () => 'already-there'));
    expect(await post([note('note-0001'), note('note-old01')], 'Rowan')).toEqual([
      'already-there',
      'already-there',
    ]);
    expect(kept('note-old01')).toEqual(['Somebody of before', undefined]);
  });
});

describe('who has not signed in', () => {
  it('learns nothing of the farm', async () => {
    server = await startServer();
    await person(server, 'Rowan', 'keeper');
    const asked = async (): Promise<unknown> => (await fetch(api('/me'))).json();
    const before = await asked();
    furnish(server);
    server.store.settings.put(
      'farm',
      { farmName: 'Hillside', display: { temperature: 'F', weight: 'lb' } },
      { by: 'x' },
    );
    expect(await asked()).toEqual(before);
    const signedIn = await (await fetch(api('/me'), { headers: as(await cookieOf('Rowan')) })).json();
    expect(signedIn).toMatchObject({ farm: { farmName: 'Hillside' }, setUp: { site: true, nuc: true } });
  });
});
