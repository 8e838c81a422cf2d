/** A channel that was out of reach for long: what waits is read once, not once an alert or once a message. */
import { describe, expect, it } from 'vitest';
import { createNotifications } from '../../server/notify/notifications.ts';
import { createOutbox } from '../../server/notify/outbox.ts';
import type { Delivery, DeliveryStore } from '../../server/notify/delivery.ts';
import type { Sent } from '../../server/notify/sender.ts';
import { effect, min, noon, nuc, recipient } from './made-up.ts';
import { memoryStore } from './memory-store.ts';

const most = 200;
const phone = recipient();

/** Counts how many messages are read from all that wait. */
function countingStore() {
  const store = memoryStore();
  let read = 0;
  const counting: DeliveryStore = {
    ...store,
    waiting() {
      const all = store.waiting();
      read += all.length;
      return all;
    },
  };
  return { ...store, counting, read: () => read };
}
const notifications = (store: DeliveryStore) =>
  createNotifications({
    store,
    recipients: () => [phone],
    titleOf: (ruleId) => ruleId,
    timeZoneOf: () => 'UTC',
    digestDue: () => false,
  });
/** One site each, so that none goes along with another. */
const raised = (from: number) =>
  Array.from({ length: most }, (_, i) =>
    effect('raised', { subject: nuc(from + i, `site-${String(from + i)}`) }),
  );

describe('many messages that wait', () => {
  it('are read once for all alerts of a minute', () => {
    const { counting, read, waiting } = countingStore();
    notifications(counting).onEffects(raised(0), noon);
    notifications(counting).onEffects(raised(most), noon + min);
    expect(waiting()).toHaveLength(2 * most);
    expect(read()).toBeLessThanOrEqual(most);
  });

  it('are read a few times while all of them are sent, each once and in order', async () => {
    const { counting, read, all } = countingStore();
    notifications(counting).onEffects(raised(0), noon);
    const sent: string[] = [];
    const before = read();
    await outboxOf(counting, (delivery) => void sent.push(delivery.key)).pump();
    expect(sent).toEqual(all().map(({ key }) => key));
    expect(sent).toHaveLength(most);
    expect(read() - before).toBeLessThanOrEqual(4 * most);
  });

  it('are sent as they are by then: grown by another nuc, or not at all', async () => {
    const store = memoryStore();
    const now = notifications(store);
    now.onEffects(
      [1, 2, 3].map((n) => effect('raised', { subject: nuc(n, `site-${String(n)}`) })),
      noon,
    );
    const sent: Delivery[] = [];
    const outbox = outboxOf(store, (delivery) => {
      sent.push(delivery);
      if (sent.length > 1) return;
      now.onEffects([effect('cleared', { subject: nuc(2, 'site-2') })], noon + min);
      now.onEffects([effect('raised', { subject: nuc(33, 'site-3') })], noon + min);
    });
    await outbox.pump();
    expect(sent.map(({ items }) => items.map(({ subject }) => subject.id))).toEqual([['n1'], ['n3', 'n33']]);
  });

  it('take another nuc along also after one that is not sent', () => {
    const store = memoryStore();
    const effects = [
      effect('raised', { subject: nuc(1) }),
      effect('cleared', { subject: nuc(2) }),
      effect('raised', { subject: nuc(3) }),
    ];
    notifications(store).onEffects([effect('raised', { subject: nuc(9) })], noon);
    notifications(store).onEffects(effects, noon);
    expect(store.waiting().map(({ items }) => items.map(({ subject }) => subject.id))).toEqual([
      ['n9', 'n1', 'n3'],
    ]);
  });
});

function outboxOf(store: DeliveryStore, onSent: (delivery: Delivery) => void) {
  const send = (delivery: Delivery): Promise<Sent> => {
    onSent(delivery);
    return Promise.resolve({ ok: true, detail: 'shown' });
  };
  return createOutbox({
    store,
    senders: { mail: send, webhook: send, mqtt: send, browser: send, push: send },
    recipients: () => [phone],
    clock: () => noon + min,
  });
}
