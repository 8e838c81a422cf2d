/** A visit that is taken back is gone from the server too, also where the answer to it was lost on the way. */
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import type { LogEntry } from '../../dashboard/api/facts.ts';
import { send, undo, write } from '../../dashboard/visit/outbox.ts';
import type { Unsent } from '../../dashboard/visit/unsent.ts';
import { queue } from './support/memory-queue.ts';

vi.mock('../../dashboard/visit/queue.ts', () => import('./support/memory-queue.ts'));

const atMs = Date.parse('2026-05-14T12:00:00Z');
const visit = (id: string): Unsent => ({
  entry: {
    id,
    introductionId: 'i1',
    type: 'fact',
    happenedAtMs: atMs,
    writtenAtMs: atMs,
    fact: { kind: 'note' },
    note: 'The wrong nuc',
  },
  nucName: 'Elm 1',
  words: 'Note',
  problems: [],
});

/** Stores what it is sent; its answer reaches the page while there is signal. */
let stored: LogEntry[] = [];
let hasSignal = true;
let arrives = true;
beforeEach(() => {
  stored = [];
  hasSignal = arrives = true;
  queue.clear();
  vi.stubGlobal('navigator', {
    get onLine() {
      return arrives;
    },
  });
  vi.stubGlobal('document', { baseURI: 'http://127.0.0.1/' });
  vi.stubGlobal('fetch', (_url: URL, { body }: { readonly body?: string }) => {
    if (!arrives || body === undefined) return Promise.reject(new TypeError('no signal'));
    const { entries } = JSON.parse(body) as { readonly entries: readonly LogEntry[] };
    const isNew = ({ id }: LogEntry): boolean => stored.every((one) => one.id !== id);
    stored.push(...entries.filter(isNew));
    if (!hasSignal) return Promise.reject(new TypeError('no signal'));
    const items = entries.map(({ id }) => ({ id, result: 'stored', problems: [] }));
    return Promise.resolve(new Response(JSON.stringify({ items })));
  });
});
afterEach(() => {
  vi.unstubAllGlobals();
});

const takeBack = (one: Unsent) => undo([one], () => `back-${one.entry.id}`, atMs + 60_000);
const inWords = (): string[] =>
  stored.map((one) => (one.type === 'correction' ? `${one.corrects} withdrawn` : one.id));

it('that was stored: by a correction', async () => {
  const one = visit('stored');
  await write([one]);
  await send();
  await takeBack(one);
  await send();
  expect(inWords()).toEqual(['stored', 'stored withdrawn']);
  expect(queue.size).toBe(0);
});

it('that was stored while its answer was lost: by a correction', async () => {
  const one = visit('lost');
  hasSignal = false;
  await write([one]);
  await send();
  expect(inWords()).toEqual(['lost']);
  hasSignal = true;
  await takeBack(one);
  await send();
  expect(inWords()).toEqual(['lost', 'lost withdrawn']);
  expect(queue.size).toBe(0);
});

it('that never left this device: nothing is sent', async () => {
  const one = visit('never sent');
  arrives = false;
  await write([one]);
  await send();
  await takeBack(one);
  arrives = true;
  await send();
  expect(inWords()).toEqual([]);
  expect(queue.size).toBe(0);
});
