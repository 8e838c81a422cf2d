/** A visit of several entries that a device can't keep: none of them is kept, so that it can be tried again whole. */
import { afterEach, expect, it, vi } from 'vitest';
import { allUnsent, dropUnsent, putUnsent } from '../../dashboard/visit/queue.ts';
import type { Unsent } from '../../dashboard/visit/unsent.ts';

const entry = (id: string): Unsent => ({
  entry: {
    id,
    introductionId: 'i1',
    type: 'fact',
    happenedAtMs: 0,
    writtenAtMs: Number(id),
    fact: { kind: 'note' },
  },
  nucName: 'Elm 1',
  words: 'Note',
  problems: [],
});

/** A database with room for so many entries: a transaction that finds none is undone (Indexed Database API 3.0, 5.5). */
function database(room: number): void {
  const rows = new Map<string, Unsent>();
  const transaction = () => {
    const before = new Map(rows);
    const its = {
      oncomplete: () => undefined,
      onabort: () => undefined,
      error: null,
      objectStore: () => its,
    };
    queueMicrotask(() => {
      if (rows.size <= room) {
        its.oncomplete();
        return;
      }
      rows.clear();
      for (const [id, one] of before) rows.set(id, one);
      its.onabort();
    });
    return Object.assign(its, {
      put: (one: Unsent) => ({ result: rows.set(one.entry.id, one) }),
      delete: (id: string) => ({ result: rows.delete(id) }),
      getAll: () => ({ result: [...rows.values()] }),
    });
  };
  const request = { onsuccess: () => undefined, result: { transaction, close: () => undefined } };
  vi.stubGlobal('indexedDB', {
    open: () => {
      queueMicrotask(() => {
        request.onsuccess();
      });
      return request;
    },
  });
}
afterEach(() => {
  vi.unstubAllGlobals();
});

it('keeps all of it or none', async () => {
  database(2);
  await expect(putUnsent(['1', '2', '3'].map(entry))).rejects.toThrow('could not be kept');
  expect(await allUnsent()).toEqual([]);
  await putUnsent(['2', '1'].map(entry));
  expect((await allUnsent()).map((one) => one.entry.id)).toEqual(['1', '2']);
  await dropUnsent(['1', '2']);
  expect(await allUnsent()).toEqual([]);
});
