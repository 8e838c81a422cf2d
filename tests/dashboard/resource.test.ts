/** What the page shows of the server: when it is fetched, when not, and what is shown meanwhile. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { LiveEvent } from '../../server/contract/alerts.ts';
import { tell } from '../../dashboard/state/live.ts';
import { changed, resource, resourceFamily } from '../../dashboard/state/resource.ts';

const nuc = (id: string): LiveEvent => ({ type: 'nuc', id });
const hello: LiveEvent = { type: 'hello', time: '2026-05-14T12:00:00.000Z', version: '1' };

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

/** Counts its fetches, and answers with their number. */
function counted(pauseMs?: () => number) {
  const load = vi.fn(() => Promise.resolve(load.mock.calls.length));
  return {
    load,
    one: resource<number>(load, { changedBy: ({ type }) => type === 'nuc', ...(pauseMs && { pauseMs }) }),
  };
}

describe('a resource', () => {
  it('is fetched when it is shown, and not again while it is fresh', async () => {
    const { load, one } = counted();
    expect(load).not.toHaveBeenCalled();
    one.watch()();
    await vi.advanceTimersByTimeAsync(9_000);
    one.watch()();
    expect(load).toHaveBeenCalledTimes(1);
    await vi.advanceTimersByTimeAsync(2_000);
    one.watch();
    expect(load).toHaveBeenCalledTimes(2);
  });

  it('asks once for a burst of events, and does not wait for a stream that never rests', async () => {
    const { load, one } = counted();
    one.watch();
    await vi.advanceTimersByTimeAsync(1_000);
    tell(nuc('a'));
    tell(nuc('b'));
    await vi.advanceTimersByTimeAsync(500);
    expect(load).toHaveBeenCalledTimes(2);
    for (let i = 0; i < 20; i += 1) {
      tell(nuc('a'));
      await vi.advanceTimersByTimeAsync(100);
    }
    expect(load.mock.calls.length).toBeGreaterThanOrEqual(5);
  });

  it('that nobody looks at is fetched when it is next shown, and not before', async () => {
    const { load, one } = counted();
    const leave = one.watch();
    await vi.advanceTimersByTimeAsync(100);
    leave();
    tell(nuc('a'));
    await vi.advanceTimersByTimeAsync(1_000);
    expect(load).toHaveBeenCalledTimes(1);
    one.watch();
    expect(load).toHaveBeenCalledTimes(2);
  });

  it('keeps to its pause, and fetches once for all that was told in it', async () => {
    const { load, one } = counted(() => 60_000);
    one.watch();
    await vi.advanceTimersByTimeAsync(1_000);
    for (let i = 0; i < 50; i += 1) {
      tell(nuc('a'));
      await vi.advanceTimersByTimeAsync(1_000);
    }
    expect(load).toHaveBeenCalledTimes(1);
    await vi.advanceTimersByTimeAsync(10_000);
    expect(load).toHaveBeenCalledTimes(2);
  });

  it('is fetched again at once after this page stored something, and is there when that is awaited', async () => {
    const { load, one } = counted();
    one.watch();
    await vi.advanceTimersByTimeAsync(1_000);
    await changed({ type: 'channels' });
    expect(one.snapshot.value.data).toBe(1);
    await changed({ type: 'nuc', id: 'a' });
    expect(one.snapshot.value.data).toBe(2);
    expect(load).toHaveBeenCalledTimes(2);
  });

  it('asks once more where something changed while it was being fetched', async () => {
    let answer = (_value: string): void => undefined;
    const load = vi.fn(() => new Promise<string>((resolve) => (answer = resolve)));
    const one = resource(load, { changedBy: ({ type }) => type === 'nuc' });
    const leave = one.watch();
    const stored = changed({ type: 'nuc', id: 'a' });
    answer('before');
    await vi.advanceTimersByTimeAsync(0);
    expect(load).toHaveBeenCalledTimes(2);
    answer('after');
    await stored;
    expect(one.snapshot.value.data).toBe('after');
    leave();
  });

  it('keeps what was patched in while an older answer was on its way', async () => {
    let answer: (value: number) => void = () => undefined;
    const one = resource<number>(() => new Promise((resolve) => (answer = resolve)));
    const loading = one.reload();
    one.patch((now) => Math.max(now, 7));
    answer(3);
    await loading;
    expect(one.snapshot.value.data).toBe(7);
    const again = one.reload();
    answer(4);
    await again;
    expect(one.snapshot.value.data).toBe(4);
  });

  it('keeps what it has, with its age, where the server does not answer', async () => {
    const load = vi
      .fn<() => Promise<number>>()
      .mockResolvedValueOnce(1)
      .mockRejectedValueOnce(new Error('off'));
    const one = resource(load);
    one.watch();
    await vi.advanceTimersByTimeAsync(0);
    const { at } = one.snapshot.value;
    await vi.advanceTimersByTimeAsync(5_000);
    await one.reload();
    expect(one.snapshot.value).toEqual({ data: 1, at, trouble: new Error('off') });
  });

  it('is fetched again when the stream was away', async () => {
    const { load, one } = counted();
    one.watch();
    tell(hello);
    await vi.advanceTimersByTimeAsync(5_000);
    expect(load).toHaveBeenCalledTimes(1);
    tell(hello);
    await vi.advanceTimersByTimeAsync(1_000);
    expect(load).toHaveBeenCalledTimes(2);
  });
});

describe('a family of resources', () => {
  it('keeps the newest few and all that are on show, and forgets the others', () => {
    const asked = new Set<string>();
    const family = resourceFamily((key) => Promise.resolve(key), {
      changedBy: (_change, key) => {
        asked.add(key);
        return false;
      },
    });
    const shown = family('shown');
    shown.watch();
    for (let i = 0; i < 500; i += 1) family(`nuc ${String(i)}`);
    expect(family.kept('shown')).toBe(shown);
    expect(family.kept('nuc 499')).toBeDefined();
    expect(family.kept('nuc 0')).toBeUndefined();
    tell(nuc('a'));
    expect([...asked].sort()).toHaveLength(40);
    expect(asked.has('shown')).toBe(true);
  });

  it('tells each member only what concerns it', async () => {
    const load = vi.fn((key: string) => Promise.resolve(key));
    const family = resourceFamily(load, { changedBy: ({ id }, key) => id === key });
    family('a').watch();
    family('b').watch();
    await vi.advanceTimersByTimeAsync(0);
    await changed({ type: 'nuc', id: 'b' });
    expect(load.mock.calls.map(([key]) => key)).toEqual(['a', 'b', 'b']);
  });
});
