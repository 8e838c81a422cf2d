/**
 * The outbox while nothing can be stored: notifications are kept in memory, sent from there, and written as soon as
 * that is possible again. A full disk must not silence the alert about the full disk, nor any other.
 */
import type { Delivery, DeliveryStore } from '../notify/delivery.ts';
import { StoreUnavailable } from '../store/store.ts';

export function deliveryQueue(store: DeliveryStore): DeliveryStore {
  /** By key, in the order in which they were first kept. */
  const unwritten = new Map<string, Delivery>();

  function write(): void {
    for (const [key, delivery] of unwritten) {
      try {
        store.save(delivery);
      } catch (error) {
        if (error instanceof StoreUnavailable) return;
        throw error;
      }
      unwritten.delete(key);
    }
  }

  /** What is stored, as it is by now, and what is not stored yet. */
  function joined(stored: readonly Delivery[], belongs: (delivery: Delivery) => boolean): Delivery[] {
    const known = new Set(stored.map(({ key }) => key));
    const fresh = [...unwritten.values()].filter(({ key }) => !known.has(key));
    return [...stored.map((delivery) => unwritten.get(delivery.key) ?? delivery), ...fresh].filter(belongs);
  }

  return {
    save(delivery) {
      unwritten.set(delivery.key, delivery);
      write();
    },
    get: (key) => unwritten.get(key) ?? store.get(key),
    waiting: () => joined(store.waiting(), ({ state }) => state === 'waiting'),
    ofEpisode: (id) =>
      joined(store.ofEpisode(id), ({ items }) => items.some(({ episodeId }) => episodeId === id)),
    lastDigest(recipientId) {
      const fresh = [...unwritten.values()].findLast(
        (delivery) => delivery.recipientId === recipientId && delivery.kind === 'digest',
      );
      return fresh ?? store.lastDigest(recipientId);
    },
    recent: (limit) =>
      joined(store.recent(limit), () => true)
        .sort((a, b) => b.createdAtMs - a.createdAtMs)
        .slice(0, limit),
  };
}
