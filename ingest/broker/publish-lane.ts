/**
 * Takes plain readings out of the stream before the broker sees them: PUBLISH at QoS 1, not retained, for a topic that
 * needs no second look. While nobody has subscribed there is nothing that a broker would do with them, and parsing
 * and passing each on costs more than storing it. Everything else, and everything after it in the same piece of the
 * stream, is left to the broker, so that the order in which messages came is kept. Both get whole packets.
 */
import { headerAt } from './frame-guard.ts';
import { topicMemory, type TopicMemory } from './topic-memory.ts';

export interface ShortPublish {
  readonly topic: string;
  readonly payload: Buffer;
  readonly messageId: number;
}

/** Of the readings of a piece: all of them, all but the last one, which lets the broker see that the sender lives, none. */
export type Taking = 'all' | 'all but the last' | 'none';

export interface PublishLane {
  /** What the broker may see of this piece, now or with a later one; empty when nothing. */
  pass(chunk: Buffer): Buffer;
}

/** First byte of a PUBLISH at QoS 1 that is not retained, sent for the first time or again. */
const firstBytes = new Set([0x32, 0x3a]);
const nothing = Buffer.alloc(0);

function readPublish(
  chunk: Buffer,
  at: number,
  bodyAt: number,
  end: number,
  topics: TopicMemory,
): ShortPublish | undefined {
  if (!firstBytes.has(chunk[at] ?? 0) || end - bodyAt < 4) return undefined;
  const topicEnd = bodyAt + 2 + chunk.readUInt16BE(bodyAt);
  if (topicEnd + 2 > end) return undefined;
  const messageId = chunk.readUInt16BE(topicEnd);
  if (messageId === 0) return undefined;
  const topic = topics.plain(chunk, bodyAt + 2, topicEnd);
  return topic === undefined ? undefined : { topic, payload: chunk.subarray(topicEnd + 2, end), messageId };
}

/**
 * @param howMany asked once for each piece
 * @param take called in the order of the stream
 */
export function publishLane(howMany: () => Taking, take: (publish: ShortPublish) => void): PublishLane {
  /** The beginning of a packet whose end is still to come, and how many bytes it takes at least. */
  let held: Buffer[] = [];
  let heldBytes = 0;
  let wantedBytes = 0;
  /** What can't be cut into packets is for the broker's parser to complain about. */
  let broken = false;
  const topics = topicMemory();

  function hold(rest: Buffer, wanted: number): void {
    // A copy: a few bytes must not keep the whole piece that they came in.
    held = rest.length > 0 ? [Buffer.from(rest)] : [];
    heldBytes = rest.length;
    wantedBytes = wanted;
  }

  return {
    pass(incoming) {
      if (broken) return incoming;
      let chunk = incoming;
      if (heldBytes > 0) {
        held.push(incoming);
        heldBytes += incoming.length;
        // Joined once, however slowly a large packet drips in.
        if (heldBytes < wantedBytes) return nothing;
        chunk = Buffer.concat(held);
      }
      const wish = howMany();
      let taking = wish !== 'none';
      let passFrom = 0;
      /** Taken as soon as another one follows. */
      let last: ShortPublish | undefined;
      let lastFrom = 0;
      let at = 0;
      let wanted = 0;
      while (at < chunk.length) {
        const header = headerAt(chunk, at);
        if (header?.malformed === true) {
          broken = true;
          if (last) take(last);
          return chunk.subarray(passFrom);
        }
        const end = header ? at + header.headerBytes + header.remaining : Infinity;
        if (!header || end > chunk.length) {
          wanted = header ? end - at : chunk.length - at + 1;
          break;
        }
        const publish = taking ? readPublish(chunk, at, at + header.headerBytes, end, topics) : undefined;
        if (last) take(last);
        last = publish;
        if (publish) {
          lastFrom = at;
          passFrom = end;
        } else taking = false;
        at = end;
      }
      if (last && wish === 'all but the last') passFrom = lastFrom;
      else if (last) take(last);
      hold(chunk.subarray(at), wanted);
      return chunk.subarray(passFrom, at);
    },
  };
}
