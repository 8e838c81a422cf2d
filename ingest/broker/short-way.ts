/**
 * Readings that the embedded broker need not see, on one connection: received, stored and acknowledged without it. Only
 * while nobody has subscribed; see `publish-lane.ts` for which.
 */
import type { Socket } from 'node:net';
import { publishLane, type ShortPublish, type Taking } from './publish-lane.ts';

export interface ShortWayEnd {
  /** Whether readings may go this way now. */
  isOpen(): boolean;
  /** Milliseconds by which the sender of one more message has to wait. */
  waitMs(): number;
  receive(publish: ShortPublish, settled: (stored: boolean) => void): void;
}

export interface ShortWay {
  /** What the broker may see of this piece of the stream. */
  pass(chunk: Buffer): Buffer;
  /** The next piece is read when the last one is settled; the broker is told then. */
  isBusy(): boolean;
  /** Sends the acknowledgements that wait, before another one overtakes them. */
  flush(): void;
}

/** So often a reading goes the long way, so that the broker sees that the connection lives: keepalive is 1 s at least. */
const longWayMs = 400;
/** PUBACK with two bytes to come (MQTT 3.1.1 §3.4). */
const pubackHead = 0x4002_0000;

export function shortWay(socket: Socket, end: ShortWayEnd): ShortWay {
  let lastLongMs = 0;
  let underWay = 0;
  let readLater = false;
  let acks: number[] = [];

  /** Once what a commit settled is written. */
  function goOn(): void {
    flush();
    if (underWay > 0 || !readLater) return;
    readLater = false;
    socket.emit('readable');
  }

  function settle(): void {
    underWay -= 1;
    if (underWay === 0) process.nextTick(goOn);
  }

  /** All that one commit acknowledges, in one piece. */
  function flush(): void {
    const ids = acks;
    acks = [];
    if (ids.length === 0 || !socket.writable) return;
    const bytes = Buffer.allocUnsafe(ids.length * 4);
    for (const [at, id] of ids.entries()) bytes.writeUInt32BE(pubackHead | id, at * 4);
    if (socket.write(bytes)) return;
    // Who doesn't read its acknowledgements is not read either.
    underWay += 1;
    socket.once('drain', settle);
  }

  function acknowledge(messageId: number): void {
    acks.push(messageId);
    if (acks.length === 1) process.nextTick(flush);
    settle();
  }

  function take(publish: ShortPublish): void {
    // Its payload need not be kept until the commit, and with it the piece of the stream that it came in.
    const { messageId } = publish;
    const waitMs = end.waitMs();
    underWay += 1;
    end.receive(publish, (stored) => {
      if (!stored) socket.destroy();
      else if (waitMs < 1) acknowledge(messageId);
      else setTimeout(acknowledge, waitMs, messageId);
    });
  }

  function howMany(): Taking {
    if (!end.isOpen()) return 'none';
    const nowMs = performance.now();
    if (nowMs - lastLongMs < longWayMs) return 'all';
    lastLongMs = nowMs;
    return 'all but the last';
  }

  const lane = publishLane(howMany, take);
  return {
    pass: (chunk) => lane.pass(chunk),
    isBusy() {
      if (underWay === 0) return false;
      readLater = true;
      return true;
    },
    flush,
  };
}
