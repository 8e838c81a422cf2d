/**
 * Sends what waits. To each recipient in order, one at a time; what fails is tried again after a pause
 * and holds back what comes after it, so that no all-clear overtakes its alert.
 */
import { dayMs, hourMs, minuteMs } from '../durations.ts';
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
    const attempts = delivery.attempts + 1;
    const tried: Delivery = { ...delivery, attempts, createdAtMs: Math.min(delivery.createdAtMs, clock()) };
    store.save(tried);
    const sent = await sendBy(senders, tried, recipient, clock());
    const nowMs = clock();
    if (sent.ok) {
      store.save({ ...tried, state: 'sent', sentAtMs: nowMs, lastError: null });
      return true;
    }
    // Old at its first try: the server was off, or its clock leapt ahead; the network may not be there yet.
    const lost = sent.final || (attempts > 1 && nowMs - tried.createdAtMs > giveUpAfterMs);
    store.save({
      ...tried,
      state: lost ? 'given-up' : 'waiting',
      lastError: sent.detail,
      notBeforeMs: nowMs + pauseAfterMs(tried.attempts, sent.retryAfterMs),
    });
    return lost;
  }

  /** Sends what is due by now, oldest first; false where nothing was, or where one has to be tried again. */
  async function sendDue(recipient: Recipient): Promise<boolean> {
    const due = dueFor(recipient, store.waiting(), clock());
    for (const { key } of due) {
      // While another was on its way it may have grown, or been taken back.
      const next = store.get(key);
      if (next?.state === 'waiting' && !(await attempt(next, recipient))) return false;
    }
    return due.length > 0;
  }

  async function sendTo(recipient: Recipient): Promise<void> {
    while (await sendDue(recipient));
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

/** Those that are due, oldest first; none while an earlier failure is being waited out. */
function dueFor(recipient: Recipient, waiting: readonly Delivery[], nowMs: number): readonly Delivery[] {
  const mine = waiting.filter(({ recipientId }) => recipientId === recipient.id);
  if (mine.some((delivery) => delivery.attempts > 0 && !isDue(delivery, nowMs))) return [];
  return mine.filter((delivery) => isDue(delivery, nowMs));
}

/** Nothing waits for longer: quiet hours end within a day, which is 25 hours long where the clocks go back. */
const longestWaitMs = dayMs + hourMs;

/** Also where it was made, or failed, while the clock was ahead: it must not wait for the time that was shown then. */
const isDue = ({ notBeforeMs, createdAtMs }: Delivery, nowMs: number): boolean =>
  notBeforeMs <= nowMs || createdAtMs > nowMs + minuteMs || notBeforeMs > nowMs + longestWaitMs;
