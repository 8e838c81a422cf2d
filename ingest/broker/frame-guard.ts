/**
 * Keeps oversized MQTT packets out of the parser, which would gather each whole one in memory. The bytes of a PUBLISH
 * beyond the limit are let through to nobody; its topic, its identifier and its first 4 KiB are reported instead, so that
 * it can be quarantined and acknowledged, because a device that gets no answer would send it for ever.
 */

export interface Oversized {
  /** Undefined for a packet that is no PUBLISH: there is no polite answer to it. */
  readonly publish?: {
    readonly topic: string;
    readonly qos: number;
    readonly messageId: number | undefined;
    readonly head: Uint8Array;
    readonly payloadBytes: number;
  };
  readonly bytes: number;
}

export interface FrameGuard {
  /** What the parser may see of this chunk; empty when nothing. */
  pass(chunk: Buffer): Buffer;
}

const keptPayloadBytes = 4096;
/** Fixed part, the longest topic, an identifier, some properties, and the kept beginning of the payload. */
const keptBytes = 2 + 65_535 + 2 + 1024 + keptPayloadBytes;
const publishType = 3;
const nothing = Buffer.alloc(0);

interface Header {
  readonly first: number;
  readonly remaining: number;
  readonly headerBytes: number;
  /** Its length has more than four bytes; the parser says so. */
  readonly malformed: boolean;
}

/** Undefined: more bytes are needed. */
export function headerAt(chunk: Buffer, at: number): Header | undefined {
  let remaining = 0;
  for (let index = 0; index < 4; index += 1) {
    const byte = chunk[at + 1 + index];
    if (byte === undefined) return undefined;
    remaining += (byte & 0x7f) * 128 ** index;
    if (byte < 0x80 || index === 3)
      return { first: chunk[at] ?? 0, remaining, headerBytes: index + 2, malformed: byte >= 0x80 };
  }
  return undefined;
}

function varintAt(bytes: Buffer, at: number): { value: number; bytes: number } {
  const header = headerAt(bytes, at - 1);
  return header ? { value: header.remaining, bytes: header.headerBytes - 1 } : { value: 0, bytes: 1 };
}

/** `body`: the beginning of what follows the fixed header. */
function describe(
  { first, remaining, headerBytes }: Header,
  body: Buffer,
  withProperties: boolean,
): Oversized {
  const bytes = remaining + headerBytes;
  if (first >> 4 !== publishType || body.length < 2) return { bytes };
  const qos = (first >> 1) & 3;
  let at = 2 + body.readUInt16BE(0);
  const topic = body.toString('utf8', 2, at);
  const messageId = qos > 0 && body.length >= at + 2 ? body.readUInt16BE(at) : undefined;
  if (qos > 0) at += 2;
  if (withProperties) {
    const length = varintAt(body, at);
    at += length.bytes + length.value;
  }
  const head = Buffer.from(body.subarray(at, at + keptPayloadBytes));
  return { bytes, publish: { topic, qos, messageId, head, payloadBytes: Math.max(0, remaining - at) } };
}

export function frameGuard(
  maxPacketBytes: number | (() => number),
  withProperties: () => boolean,
  onOversized: (packet: Oversized) => void,
): FrameGuard {
  /** Of the packet under way: bytes still to come that may pass. */
  let passing = 0;
  let held = nothing;
  const most = typeof maxPacketBytes === 'number' ? () => maxPacketBytes : maxPacketBytes;
  let dropping: { header: Header; left: number; kept: Buffer[]; keptLength: number } | undefined;

  function drop(chunk: Buffer, at: number): number {
    if (!dropping) return at;
    const piece = chunk.subarray(at, at + dropping.left);
    if (dropping.keptLength < keptBytes) {
      const kept = piece.subarray(0, keptBytes - dropping.keptLength);
      dropping.kept.push(Buffer.from(kept));
      dropping.keptLength += kept.length;
    }
    dropping.left -= piece.length;
    if (dropping.left === 0) {
      const { header, kept } = dropping;
      dropping = undefined;
      onOversized(describe(header, Buffer.concat(kept), withProperties()));
    }
    return at + piece.length;
  }

  /** Where the next packet begins; marks what may pass. */
  function advance(chunk: Buffer, at: number): { next: number; passes: boolean } {
    if (dropping) return { next: drop(chunk, at), passes: false };
    if (passing > 0) {
      const next = Math.min(chunk.length, at + passing);
      passing -= next - at;
      return { next, passes: true };
    }
    const header = headerAt(chunk, at);
    if (!header) {
      held = Buffer.from(chunk.subarray(at));
      return { next: chunk.length, passes: false };
    }
    if (header.remaining + header.headerBytes <= most()) {
      passing = header.remaining + header.headerBytes;
      return { next: at, passes: true };
    }
    dropping = { header, left: header.remaining, kept: [], keptLength: 0 };
    return { next: at + header.headerBytes, passes: false };
  }

  return {
    pass(incoming) {
      const chunk = held.length > 0 ? Buffer.concat([held, incoming]) : incoming;
      held = nothing;
      const pieces: Buffer[] = [];
      let from = 0;
      let at = 0;
      while (at < chunk.length) {
        const { next, passes } = advance(chunk, at);
        if (!passes) {
          if (at > from) pieces.push(chunk.subarray(from, at));
          from = next;
        }
        at = next;
      }
      // The usual case, nothing taken out, costs no copy.
      if (from === 0) return chunk;
      if (at > from) pieces.push(chunk.subarray(from, at));
      return Buffer.concat(pieces);
    },
  };
}
