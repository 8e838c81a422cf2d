/** An entry that the server can't even read is set aside with the reason; those beside it are sent. */
import { afterEach, expect, it, vi } from 'vitest';
import { send, write } from '../../dashboard/visit/outbox.ts';
import type { Unsent } from '../../dashboard/visit/unsent.ts';
import { logPostSchema } from '../../server/contract/introductions.ts';
import { queue } from './support/memory-queue.ts';

vi.mock('../../dashboard/visit/queue.ts', () => import('./support/memory-queue.ts'));

const atMs = Date.parse('2026-05-14T12:00:00Z');
const entry = (id: string, order: number, note: string): Unsent => ({
  entry: {
    id,
    introductionId: 'introduction-1',
    type: 'fact',
    happenedAtMs: atMs,
    writtenAtMs: atMs + order,
    fact: { kind: 'note' },
    note,
  },
  nucName: 'Elm 1',
  words: 'Note',
  problems: [],
});

afterEach(() => {
  vi.unstubAllGlobals();
});

it('does not hold up the others', async () => {
  const stored: string[] = [];
  vi.stubGlobal('navigator', { onLine: true });
  vi.stubGlobal('document', { baseURI: 'http://127.0.0.1/' });
  vi.stubGlobal('fetch', (url: URL, { body = '' }: { readonly body?: string }) => {
    if (!url.pathname.endsWith('/log')) return Promise.reject(new TypeError('no signal'));
    const posted = logPostSchema.safeParse(JSON.parse(body));
    if (!posted.success) {
      const errors = posted.error.issues.map(({ path, message }) => ({
        pointer: `#/${path.join('/')}`,
        detail: message,
      }));
      const problem = {
        type: 'invalid-input',
        title: 'Bad Request',
        status: 400,
        detail: 'Not right.',
        errors,
      };
      return Promise.resolve(new Response(JSON.stringify(problem), { status: 400 }));
    }
    const items = posted.data.entries.map(({ id }) => ({ id, result: 'stored', problems: [] }));
    stored.push(...items.map(({ id }) => id));
    return Promise.resolve(new Response(JSON.stringify({ items })));
  });
  await write([
    entry('entry-one', 1, 'Calm'),
    entry('entry-two', 2, 'x'.repeat(4001)),
    entry('entry-three', 3, 'Fed'),
  ]);
  await send();
  expect(stored).toEqual(['entry-one', 'entry-three']);
  expect([...queue.keys()]).toEqual(['entry-two']);
  expect(queue.get('entry-two')?.problems).toEqual([expect.stringContaining('4000')]);
});
