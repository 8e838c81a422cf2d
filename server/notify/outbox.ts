/**
 * Sends what waits. To each recipient in order, one at a time; what fails is tried again after a pause
 * and holds back what comes after it, so that no all-clear overtakes its alert.
 */
import { giveUpAfterMs, pauseAfterMs } from './backoff.ts';
import type { Delivery, DeliveryStore } from './delivery.ts';
import type { Recipient } from './recipient.ts';
import { sendBy, type Senders } from './sender.ts';

export interface OutboxDeps {
  readonly store: DeliveryStore;
  readonly senders: Senders;
  readonly recipients: () => readonly Recipient[];
  readonly clock: () => number;
}

export interface Outbox {
  /** Sends all that is due; a call while one is under way waits for that one. */
  pump(): Promise<void>;
}

export function createOutbox({ store, senders, recipients, clock }: OutboxDeps): Outbox {
  let underWay: Promise<void> | null = null;

  async function attempt(delivery: Delivery, recipient: Recipient): Promise<boolean> {
    // Counted before the try: a server that is killed during it knows that the message may have arrived.
    const tried: Delivery = { ...delivery, attempts: delivery.attempts + 1 };
    store.save(tried);
    const sent = await sendBy(senders, tried, recipient, clock());
    const nowMs = clock();
    if (sent.ok) {
      store.save({ ...tried, state: 'sent', sentAtMs: nowMs, lastError: null });
      return true;
    }
    const lost = sent.final || nowMs - delivery.createdAtMs > giveUpAfterMs;
    store.save({
      ...tried,
      state: lost ? 'given-up' : 'waiting',
      lastError: sent.detail,
      notBeforeMs: nowMs + pauseAfterMs(tried.attempts, sent.retryAfterMs),
    });
    return lost;
  }

  async function sendTo(recipient: Recipient): Promise<void> {
    for (;;) {
      const next = nextFor(recipient, store.waiting(), clock());
      if (!next || !(await attempt(next, recipient))) return;
    }
  }

  function discardStrays(known: readonly Recipient[]): void {
    const ids = new Set(known.map(({ id }) => id));
    for (const delivery of store.waiting()) {
      if (ids.has(delivery.recipientId)) continue;
      store.save({ ...delivery, state: 'not-told', lastError: 'this notification channel was removed' });
    }
  }

  return {
    pump() {
      underWay ??= (async () => {
        const known = recipients();
        discardStrays(known);
        await Promise.all(known.map(sendTo));
      })().finally(() => {
        underWay = null;
      });
      return underWay;
    },
  };
}

/** The oldest that is due; none while an earlier failure is being waited out. */
function nextFor(recipient: Recipient, waiting: readonly Delivery[], nowMs: number): Delivery | undefined {
  const mine = waiting.filter(({ recipientId }) => recipientId === recipient.id);
  if (mine.some(({ attempts, notBeforeMs }) => attempts > 0 && notBeforeMs > nowMs)) return undefined;
  return mine.find(({ notBeforeMs }) => notBeforeMs <= nowMs);
}
