/** What every sender has in common. */
import type { Delivery } from './delivery.ts';
import type { Recipient, Channel } from './recipient.ts';

export type Sent =
  | {
      readonly ok: true;
      readonly detail: string;
      /** It did not reach everybody of the channel; to send it again would tell the others twice. */
      readonly partly?: boolean;
    }
  | {
      readonly ok: false;
      /** One sentence without any secret in it. */
      readonly detail: string;
      /** Trying again can't help: the receiver said no to this very message. */
      readonly final: boolean;
      /** The receiver asked to be left alone for so long. */
      readonly retryAfterMs?: number;
      /** Of HTTP, where there was an answer. */
      readonly status?: number;
    };

export type SenderOf<W extends Channel> = (
  delivery: Delivery,
  recipient: Recipient,
  channel: W,
  nowMs: number,
) => Promise<Sent>;

/** One sender for each kind of channel. */
export type Senders = { readonly [K in Channel['kind']]: SenderOf<Extract<Channel, { kind: K }>> };

/** Never throws: a sender that does is a failure like another. */
export async function sendBy(
  senders: Senders,
  delivery: Delivery,
  recipient: Recipient,
  nowMs: number,
): Promise<Sent> {
  const { channel } = recipient;
  try {
    switch (channel.kind) {
      case 'mail':
        return await senders.mail(delivery, recipient, channel, nowMs);
      case 'webhook':
        return await senders.webhook(delivery, recipient, channel, nowMs);
      case 'mqtt':
        return await senders.mqtt(delivery, recipient, channel, nowMs);
      case 'browser':
        return await senders.browser(delivery, recipient, channel, nowMs);
      case 'push':
        return await senders.push(delivery, recipient, channel, nowMs);
    }
  } catch (error) {
    return { ok: false, detail: error instanceof Error ? error.message : String(error), final: false };
  }
}
