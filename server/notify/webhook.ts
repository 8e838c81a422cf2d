/** A JSON message to an address of the keeper's choice, with an idempotency key that repeats are known by. */
import { inWords } from '../words/phrase.ts';
import type { Delivery, DeliveryItem } from './delivery.ts';
import { post } from './post.ts';
import type { Recipient, WebhookChannel } from './recipient.ts';
import type { SenderOf } from './sender.ts';
import { linkOf, wordsOf } from './words.ts';

export function webhookSender({ timeoutMs } = { timeoutMs: 15_000 }): SenderOf<WebhookChannel> {
  return (delivery, recipient, channel, nowMs) =>
    post({
      url: channel.url,
      method: 'POST',
      headers: {
        'content-type': 'application/json',
        'idempotency-key': delivery.key,
        ...(channel.token && { authorization: `Bearer ${channel.token.reveal()}` }),
      },
      body: JSON.stringify(jsonOf(delivery, recipient, nowMs)),
      timeoutMs,
    });
}

const iso = (atMs: number): string => new Date(atMs).toISOString();

/** The body that webhooks and MQTT events share. */
export function jsonOf(delivery: Delivery, { display, pageAddress }: Recipient, nowMs: number) {
  const { heading, text } = wordsOf(delivery, display);
  const { key, kind, urgency, items } = delivery;
  return {
    key,
    kind,
    urgency,
    sentAt: iso(nowMs),
    heading,
    text,
    alerts: items.map((item) => {
      const link = linkOf(item, pageAddress);
      return { ...itemOf(item, display), ...(link !== null && { link }) };
    }),
  };
}

function itemOf(item: DeliveryItem, readers: Recipient['display']) {
  const { episodeId, ruleId, title, subject, urgency, message, over, found, timeZone } = item;
  const display = { ...readers, timeZone };
  return {
    id: episodeId,
    rule: ruleId,
    title,
    subject: { kind: subject.kind, id: subject.id, name: subject.name },
    ...(subject.siteName !== undefined && { site: subject.siteName }),
    urgency,
    over,
    todo: inWords(message.todo, display),
    ...(message.byMs !== undefined && { by: iso(message.byMs) }),
    seen: inWords(message.seen, display),
    why: inWords(message.why, display),
    howSure: inWords(message.howSure, display),
    ...(found !== undefined && { found }),
    facts: message.facts.map(({ name, value, unit }) => ({ name, value, unit })),
  };
}
