/**
 * The topics of one connection by their bytes: a sensor says the same few for ever, and to make the same text of them
 * for each reading, and to look through it, costs more than to compare the bytes.
 */

/** Longer ones go the long way, where their levels are counted. */
const longestTopic = 100;
/** No wildcard, nothing of the broker's own. */
const plainTopic = /^[^#+$\0][^#+\0]*$/;
/** A gateway speaks for some tens of sensors; with more of them the oldest gives way. */
const mostKnown = 64;

interface Known {
  readonly bytes: Uint8Array;
  readonly topic: string;
}

export interface TopicMemory {
  /** The topic in `chunk[from..to)`; undefined where it needs a second look. */
  plain(chunk: Buffer, from: number, to: number): string | undefined;
}

function isAt(chunk: Uint8Array, from: number, bytes: Uint8Array): boolean {
  // From the end: topics of one sender differ there.
  for (let i = bytes.length - 1; i >= 0; i -= 1) if (chunk[from + i] !== bytes[i]) return false;
  return true;
}

export function topicMemory(): TopicMemory {
  let known: Known[] = [];
  /** Where the last one was found: the next message is mostly of the same topic, or of the one after it. */
  let lastAt = 0;

  function find(chunk: Buffer, from: number, length: number): string | undefined {
    for (let tried = 0; tried < known.length; tried += 1) {
      const at = (lastAt + tried) % known.length;
      const candidate = known[at];
      if (candidate?.bytes.length !== length || !isAt(chunk, from, candidate.bytes)) continue;
      lastAt = at;
      return candidate.topic;
    }
    return undefined;
  }

  return {
    plain(chunk, from, to) {
      const length = to - from;
      if (length > longestTopic) return undefined;
      const met = find(chunk, from, length);
      if (met !== undefined) return met;
      const topic = chunk.toString('utf8', from, to);
      if (!plainTopic.test(topic)) return undefined;
      // A copy: a few bytes must not keep the whole piece that they came in.
      known = [...known.slice(1 - mostKnown), { bytes: new Uint8Array(chunk.subarray(from, to)), topic }];
      return topic;
    },
  };
}
