/**
 * To a phone, away from home (RFC 8030): encrypted for the phone alone (RFC 8291), signed with this server's key
 * (RFC 8292), passed on by the service of the browser's maker.
 */
import { createHash } from 'node:crypto';
import type { Urgency } from '../rules/engine/types.ts';
import type { Delivery } from './delivery.ts';
import { post } from './post.ts';
import { keysProblem, subscriptionKeys } from './push-subscription.ts';
import type { PushChannel, Recipient } from './recipient.ts';
import type { SenderOf } from './sender.ts';
import { briefWordsOf, pageOf } from './words.ts';

export interface PushDeps {
  /** Base64url; null where there are none. */
  readonly keys: () => { readonly publicKey: string; readonly privateKey: string } | null;
  /** A `mailto:` or `https:` address at which the push service could reach the owner (RFC 8292 §2.1), if one is known. */
  readonly contact: () => string | null;
  /** The service said that the subscription is over: nothing more is sent to it. */
  readonly onEnded: (recipientId: string, nowMs: number) => void;
  readonly timeoutMs?: number;
}

/** What the service worker of the page is handed. */
export interface PushMessage {
  readonly heading: string;
  readonly text: string;
  /** A later message with the same tag takes the place of this one. */
  readonly tag: string;
  /** Below the page's own address, such as `#/nucs/n3`. */
  readonly page: string;
  readonly urgency: Urgency;
}

const noContact =
  'push services ask whom they can turn to: give the https address of this page under Settings, Farm';

/** RFC 8291 §4: what fits in the 4,096 bytes that every push service takes. */
const mostBytes = 3993;

export function pushSender({ keys, contact, onEnded, timeoutMs = 15_000 }: PushDeps): SenderOf<PushChannel> {
  return async (delivery, recipient, channel, nowMs) => {
    const pair = keys();
    const phone = subscriptionKeys(channel.keys.reveal());
    if (pair === null) return { ok: false, detail: 'the server’s key is missing', final: true };
    if (phone === undefined) return { ok: false, detail: keysProblem, final: true };
    const whom = contact();
    if (whom === null) return { ok: false, detail: noContact, final: true };
    // Some hundred kilobytes, for those who have a phone set up.
    const { default: webPush } = await import('web-push');
    const message = JSON.stringify(messageOf(delivery, recipient));
    const { cipherText } = webPush.encrypt(phone.p256dh, phone.auth, message, 'aes128gcm');
    const { origin } = new URL(channel.endpoint);
    const { Authorization: authorization } = webPush.getVapidHeaders(
      origin,
      whom,
      pair.publicKey,
      pair.privateKey,
      'aes128gcm',
    );
    const sent = await post({
      url: channel.endpoint,
      method: 'POST',
      headers: {
        authorization,
        'content-encoding': 'aes128gcm',
        'content-type': 'application/octet-stream',
        ttl: String(timeToLiveS(delivery)),
        urgency: pushUrgency(delivery),
        topic: topicOf(delivery),
      },
      body: new Uint8Array(cipherText),
      timeoutMs,
    });
    // RFC 8030 §7.3: 404 for a subscription that expired; 410 for one that was taken back, by common practice.
    if (sent.ok || (sent.status !== 404 && sent.status !== 410)) return sent;
    onEnded(recipient.id, nowMs);
    return { ...sent, detail: `${sent.detail}: the phone takes no more messages`, final: true };
  };
}

/** Never longer than a push service takes; the text is cut where it would be. */
export function messageOf(delivery: Delivery, recipient: Pick<Recipient, 'display'>): PushMessage {
  const { heading, text } = briefWordsOf(delivery, recipient.display);
  const whole = {
    heading: cutTo(heading, 600),
    text,
    tag: tagOf(delivery),
    page: pageOf(delivery.items),
    urgency: delivery.urgency,
  };
  const room = mostBytes - bytesOf({ ...whole, text: '' });
  return { ...whole, text: cutTo(text, room) };
}

const bytesOf = (value: unknown): number => Buffer.byteLength(JSON.stringify(value));

/** As many whole characters as fit, as JSON, in so many bytes; an ellipsis stands for the rest. */
function cutTo(text: string, most: number): string {
  if (bytesOf(text) - 2 <= most) return text;
  let bytes = Buffer.byteLength('…');
  let kept = '';
  for (const character of text) {
    bytes += bytesOf(character) - 2;
    if (bytes > most) break;
    kept += character;
  }
  return `${kept}…`;
}

/** One alert: its own, so that a reminder and the all-clear take its place. */
function tagOf({ kind, items, key }: Delivery): string {
  const [first, ...more] = items;
  if (kind === 'digest' || kind === 'test') return kind;
  const tag = first !== undefined && more.length === 0 ? first.episodeId : key;
  return tag.length <= 200 ? tag : digestOf(tag);
}

const digestOf = (text: string): string => createHash('sha256').update(text).digest('base64url');

/** RFC 8030 §5.4: at most 32 characters of base64url; what waits with the same topic is replaced. */
const topicOf = (delivery: Delivery): string => digestOf(tagOf(delivery)).slice(0, 32);

/** RFC 8030 §5.3. What is low waits for power or Wi-Fi, which a digest read in the field would not have. */
function pushUrgency({ kind, urgency }: Delivery): 'low' | 'normal' | 'high' {
  if (kind === 'test') return 'high';
  if (kind === 'digest' || kind === 'all-clear') return 'normal';
  return ({ now: 'high', today: 'normal', 'next-visit': 'low' } as const)[urgency];
}

const hourS = 3600;

/** How long the service keeps it for a phone that is out of reach: as long as it is still worth reading. */
function timeToLiveS({ kind, urgency }: Delivery): number {
  if (kind === 'test') return 300;
  if (kind === 'digest') return 24 * hourS;
  return { now: 12 * hourS, today: 24 * hourS, 'next-visit': 72 * hourS }[urgency];
}
