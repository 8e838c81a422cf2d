/** The promises of a delivery store, kept by the real one and by the one that the tests of telling use. */
import { describe, expect, it } from 'vitest';
import type { DeliveryStore } from '../../server/notify/delivery.ts';
import { temporaryStore } from '../store/support/temporary-store.ts';
import { delivery, effect, noon, nuc } from './made-up.ts';
import { memoryStore } from './memory-store.ts';

const item = (n: number) => {
  const { episode, ruleId, subject } = effect('raised', { subject: nuc(n) });
  const { id: episodeId, urgency, message } = episode;
  return { episodeId, ruleId, title: 'T', subject, timeZone: 'UTC', urgency, message, over: false };
};
const waiting = (key: string, over = {}) =>
  delivery({ key, state: 'waiting', attempts: 0, sentAtMs: null, items: [item(1)], ...over });
const keys = (list: readonly { readonly key: string }[]): string[] => list.map(({ key }) => key);

describe.each([
  ['in memory', (): DeliveryStore => memoryStore()],
  ['in the database', (): DeliveryStore => temporaryStore().deliveries],
])('a delivery store %s', (_name, open) => {
  it('gives back what it took', () => {
    const store = open();
    const one = waiting('a', { items: [item(1), item(2)], lastError: 'busy' });
    store.save(one);
    expect(store.waiting()).toEqual([one]);
    expect(store.get('a')).toEqual(one);
    expect(store.get('b')).toBeUndefined();
  });

  it('keeps one of each key, and the order in which they were made', () => {
    const store = open();
    store.save(waiting('b'));
    store.save(waiting('a', { createdAtMs: noon + 1 }));
    store.save(waiting('b', { attempts: 1 }));
    expect(keys(store.waiting())).toEqual(['b', 'a']);
    expect(keys(store.recent(1))).toEqual(['a']);
    store.save(waiting('b', { state: 'sent' }));
    expect(keys(store.waiting())).toEqual(['a']);
  });

  it('finds all that told an episode, and forgets what was taken out', () => {
    const store = open();
    store.save(waiting('a', { items: [item(1), item(2)] }));
    store.save(waiting('b', { state: 'not-told', createdAtMs: noon + 1 }));
    expect(keys(store.ofEpisode(item(1).episodeId))).toEqual(['a', 'b']);
    store.save(waiting('a', { items: [item(2)] }));
    expect(keys(store.ofEpisode(item(1).episodeId))).toEqual(['b']);
  });

  it('knows the latest digest of each recipient', () => {
    const store = open();
    expect(store.lastDigest('phone')).toBeNull();
    store.save(delivery({ key: 'd1', kind: 'digest' }));
    store.save(delivery({ key: 'd2', kind: 'digest', state: 'not-told', createdAtMs: noon + 1 }));
    store.save(delivery({ key: 'd3', kind: 'digest', recipientId: 'mail', createdAtMs: noon + 2 }));
    store.save(delivery({ key: 'x', createdAtMs: noon + 3 }));
    expect(store.lastDigest('phone')?.key).toBe('d2');
  });

  it('keeps what was made last the last, also where the clock was set back before it', () => {
    const store = open();
    store.save(waiting('ahead', { createdAtMs: noon + 1e10 }));
    store.save(waiting('put right'));
    expect(keys(store.waiting())).toEqual(['ahead', 'put right']);
    expect(keys(store.ofEpisode(item(1).episodeId))).toEqual(['ahead', 'put right']);
    store.save(delivery({ key: 'd1', kind: 'digest', createdAtMs: noon + 1e10 }));
    store.save(delivery({ key: 'd2', kind: 'digest' }));
    expect(store.lastDigest('phone')?.key).toBe('d2');
  });
});

describe('the database', () => {
  it('drops what is old and no longer waits', () => {
    const { deliveries } = temporaryStore();
    deliveries.save(waiting('waits'));
    deliveries.save(delivery({ key: 'old', items: [item(1)] }));
    deliveries.save(delivery({ key: 'new', createdAtMs: noon + 2 }));
    expect(deliveries.prune(noon + 1)).toBe(1);
    expect(keys(deliveries.recent(9)).sort()).toEqual(['new', 'waits']);
    expect(keys(deliveries.ofEpisode(item(1).episodeId))).toEqual(['waits']);
  });
});
