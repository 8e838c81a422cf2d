/**
 * Sends what waits. To each recipient in order, one at a time; what fails is tried again after a pause
 * and holds back what comes after it, so that no all-clear overtakes its alert.
 */
import { dayMs, hourMs, minuteMs } from '../durations.ts';
import { giveUpAfterMs, pauseAfterMs } from './backoff.ts';
import { switchedOff } from './decide.ts';
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
  /** Sends all that is due; what is under way to a recipient is waited for. */
  pump(): Promise<void>;
}

export function createOutbox({ store, senders, recipients, clock }: OutboxDeps): Outbox {
  const underWay = new Map<string, Promise<void>>();

  async function attempt(delivery: Delivery, recipient: Recipient): Promise<boolean> {
    // Counted before the try: a server that is killed during it knows that the message may have arrived.
    const attempts = delivery.attempts + 1;
    const tried: Delivery = { ...delivery, attempts, createdAtMs: Math.min(delivery.createdAtMs, clock()) };
    store.save(tried);
    const sent = await sendBy(senders, tried, recipient, clock());
    const nowMs = clock();
    if (sent.ok) {
      store.save({ ...tried, state: 'sent', sentAtMs: nowMs, lastError: sent.partly ? sent.detail : null });
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
  async function sendDue(recipientId: string): Promise<boolean> {
    const due = dueFor(recipientId, store.waiting(), clock());
    for (const { key } of due) {
      // While another was on its way it may have grown, or been taken back; or the channel was changed.
      const recipient = recipients().find(({ id, enabled }) => id === recipientId && enabled);
      if (!recipient) return false;
      const next = store.get(key);
      if (next?.state === 'waiting' && !(await attempt(next, recipient))) return false;
    }
    return due.length > 0;
  }

  async function sendAll(recipientId: string): Promise<void> {
    while (await sendDue(recipientId));
  }

  /** Each by itself: a slow one holds up no other, and one that fails leaves none to be sent to twice at a time. */
  function sendTo(recipientId: string): Promise<void> {
    const running = underWay.get(recipientId);
    if (running) return running;
    const sending = sendAll(recipientId).finally(() => underWay.delete(recipientId));
    underWay.set(recipientId, sending);
    return sending;
  }

  function discardStrays(known: readonly Recipient[]): void {
    const isOn = new Map(known.map(({ id, enabled }) => [id, enabled]));
    for (const delivery of store.waiting()) {
      const on = isOn.get(delivery.recipientId);
      if (on === true) continue;
      const lastError = on === undefined ? 'this notification channel was removed' : switchedOff;
      store.save({ ...delivery, state: 'not-told', lastError });
    }
  }

  return {
    async pump() {
      const known = recipients();
      discardStrays(known);
      await Promise.all(known.filter(({ enabled }) => enabled).map(({ id }) => sendTo(id)));
    },
  };
}

/** Those that are due, oldest first; none while an earlier failure is being waited out. */
function dueFor(id: string, waiting: readonly Delivery[], nowMs: number): readonly Delivery[] {
  const mine = waiting.filter(({ recipientId }) => recipientId === id);
  if (mine.some((delivery) => delivery.attempts > 0 && !isDue(delivery, nowMs))) return [];
  return mine.filter((delivery) => isDue(delivery, nowMs));
}

/** Nothing waits for longer: quiet hours end within a day, which is 25 hours long where the clocks go back. */
const longestWaitMs = dayMs + hourMs;

/** Also where it was made, or failed, while the clock was ahead: it must not wait for the time that was shown then. */
const isDue = ({ notBeforeMs, createdAtMs }: Delivery, nowMs: number): boolean =>
  notBeforeMs <= nowMs || createdAtMs > nowMs + minuteMs || notBeforeMs > nowMs + longestWaitMs;
