/** Answers that break off, or come from another program than this server, count as none; a device may keep nothing. */
import { afterEach, expect, it, vi } from 'vitest';
import { call } from '../../dashboard/api/client.ts';
import { noAnswer } from '../../dashboard/api/trouble.ts';
import { isoAt } from '../../dashboard/format/calendar.ts';
import { entriesOf, pastVisit } from '../../dashboard/takeover/nucs-to-enter.ts';
import { loadMe, me, meTrouble } from '../../dashboard/state/session.ts';

const answer = (response: () => Response): void => {
  vi.stubGlobal('document', { baseURI: 'http://127.0.0.1/' });
  vi.stubGlobal('fetch', () => Promise.resolve(response()));
};
afterEach(() => {
  vi.unstubAllGlobals();
});

const brokenOff = (): Response =>
  new Response(
    new ReadableStream({
      pull(body) {
        body.error(new TypeError('network error'));
      },
    }),
  );
const signInOfTheNetwork = (): Response => new Response('<!doctype html><title>Welcome</title>');

it.each([
  ['breaks off', brokenOff],
  ['is a page of the network', signInOfTheNetwork],
])('one that %s is no answer', async (_what, response) => {
  answer(response);
  await expect(call('listSites', {})).rejects.toEqual(noAnswer());
});

it('one without content is an answer where none is promised', async () => {
  answer(() => new Response(null, { status: 204 }));
  expect(await call('dropQuarantined', { params: { id: 1 } })).toBeUndefined();
});

it('a device that keeps nothing still knows who is here', async () => {
  const refuse = (): never => {
    throw new DOMException('The operation is insecure.', 'SecurityError');
  };
  vi.stubGlobal('localStorage', { getItem: refuse, setItem: refuse, removeItem: refuse });
  const here = {
    signedIn: true,
    csrf: null,
    serverTime: '2026-05-14T12:00:00Z',
    farm: { display: { temperature: 'C', weight: 'kg' } },
  };
  answer(() => new Response(JSON.stringify(here)));
  await loadMe();
  expect(me.value?.signedIn).toBe(true);
  expect(meTrouble.value).toBeUndefined();
});

it('a past visit without a day is asked for it', () => {
  const visit = pastVisit('v1', '', ['note']);
  expect(entriesOf([visit], [], 'UTC', 0, () => 'id')).toBe('Say on which day each visit was.');
});

it('a day that was left empty is asked for in words', () => {
  expect(() => isoAt('', '12:00', 'UTC')).toThrow('Say on which day, and at what time.');
  expect(isoAt('2026-05-14', '12:00', 'UTC')).toBe('2026-05-14T12:00:00.000Z');
});
