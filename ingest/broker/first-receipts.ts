/**
 * When a message came first. A broker that did not get the acknowledgement sends the message again on the next
 * connection, marked as a duplicate under the same identifier: it is still of the moment at which it came first.
 */
import { crc32 } from 'node:zlib';
import type { Receipt } from './link.ts';

/** More than a broker has under way to us at once. */
const mostKnown = 4096;

interface Known extends Receipt {
  readonly messageId: number;
  readonly topic: string;
  readonly bytes: number;
  readonly checksum: number;
}

export interface Delivery {
  readonly topic: string;
  readonly payload: Uint8Array;
  readonly messageId: number;
  /** The broker has sent it before. */
  readonly dup: boolean;
}

/** Of one MQTT session. */
export class FirstReceipts {
  /** By identifier. Brokers count them up: what is overwritten was acknowledged long ago. */
  #known: (Known | undefined)[] = [];

  /** The receipt that the message got when it came first, or a new one. */
  of({ topic, payload, messageId, dup }: Delivery): Receipt {
    const slot = messageId % mostKnown;
    const known = this.#known[slot];
    const bytes = payload.length;
    const checksum = crc32(payload);
    const isSame =
      known?.messageId === messageId &&
      known.topic === topic &&
      known.bytes === bytes &&
      known.checksum === checksum;
    if (dup && isSame) return known;
    const first: Known = { messageId, topic, bytes, checksum };
    this.#known[slot] = first;
    return first;
  }

  /** The broker began a new session: its identifiers mean other messages. */
  clear(): void {
    this.#known = [];
  }
}
