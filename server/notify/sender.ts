/** What every way of sending has in common. */
import type { Delivery } from './delivery.ts';
import type { Recipient, Way } from './recipient.ts';

export type Sent =
  | { readonly ok: true; readonly detail: string }
  | {
      readonly ok: false;
      /** One sentence without any secret in it. */
      readonly detail: string;
      /** Trying again can't help: the receiver said no to this very message. */
      readonly final: boolean;
      /** The receiver asked to be left alone for so long. */
      readonly retryAfterMs?: number;
    };

export type SenderOf<W extends Way> = (
  delivery: Delivery,
  recipient: Recipient,
  way: W,
  nowMs: number,
) => Promise<Sent>;

/** One sender a kind of way. */
export type Senders = { readonly [K in Way['kind']]: SenderOf<Extract<Way, { kind: K }>> };

/** Never throws: a sender that does is a failure like another. */
export async function sendBy(
  senders: Senders,
  delivery: Delivery,
  recipient: Recipient,
  nowMs: number,
): Promise<Sent> {
  const { way } = recipient;
  try {
    switch (way.kind) {
      case 'mail':
        return await senders.mail(delivery, recipient, way, nowMs);
      case 'webhook':
        return await senders.webhook(delivery, recipient, way, nowMs);
      case 'mqtt':
        return await senders.mqtt(delivery, recipient, way, nowMs);
      case 'browser':
        return await senders.browser(delivery, recipient, way, nowMs);
    }
  } catch (error) {
    return { ok: false, detail: error instanceof Error ? error.message : String(error), final: false };
  }
}
