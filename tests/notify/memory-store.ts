/** A delivery store in memory, with the same promises as the real one. Its content survives a "restart". */
import type { Delivery, DeliveryStore } from '../../server/notify/delivery.ts';

export function memoryStore(): DeliveryStore & { readonly all: () => readonly Delivery[] } {
  const kept = new Map<string, Delivery>();
  const all = (): Delivery[] => [...kept.values()];
  return {
    all,
    // A round trip through text, as in a database: nothing is shared with the caller.
    save: (delivery) => void kept.set(delivery.key, JSON.parse(JSON.stringify(delivery)) as Delivery),
    get: (key) => kept.get(key),
    waiting: () => all().filter(({ state }) => state === 'waiting'),
    ofEpisode: (id) => all().filter(({ items }) => items.some(({ episodeId }) => episodeId === id)),
    lastDigest: (recipientId) =>
      all()
        .filter((delivery) => delivery.recipientId === recipientId && delivery.kind === 'digest')
        .at(-1) ?? null,
    recent: (limit) => all().reverse().slice(0, limit),
  };
}
