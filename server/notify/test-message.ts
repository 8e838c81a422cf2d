/** The test button: one message, sent at once, kept with its outcome like any other. */
import type { Delivery, DeliveryStore } from './delivery.ts';
import type { Recipient } from './recipient.ts';
import { sendBy, type Senders, type Sent } from './sender.ts';

export async function sendTest(
  recipient: Recipient,
  senders: Senders,
  store: DeliveryStore,
  nowMs: number,
): Promise<Sent> {
  const delivery: Delivery = {
    key: `${recipient.id}/test/${String(nowMs)}`,
    recipientId: recipient.id,
    kind: 'test',
    urgency: 'next-visit',
    items: [],
    reason: 'somebody pressed the test button',
    state: 'given-up',
    createdAtMs: nowMs,
    notBeforeMs: nowMs,
    attempts: 1,
    sentAtMs: null,
    lastError: null,
  };
  const sent = await sendBy(senders, delivery, recipient, nowMs);
  store.save(
    sent.ok ? { ...delivery, state: 'sent', sentAtMs: nowMs } : { ...delivery, lastError: sent.detail },
  );
  return sent;
}
