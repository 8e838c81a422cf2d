/**
 * Acknowledgement after commit for the `mqtt` client, which sends each PUBACK as soon as it has handed the message on;
 * its own hook waits too, but for one message at a time. This stream stands between the client and its connection: it
 * drops the client's PUBACKs and sends one itself when the commit that holds the message is done. Everything else
 * passes. PUBACKs leave in the order in which the messages came (MQTT 5, 4.6).
 */
import { Duplex } from 'node:stream';
import { headerAt } from './frame-guard.ts';

const pubackByte = 0x40;

interface Held {
  readonly messageId: number;
  released: boolean;
}

export class AcknowledgementGate extends Duplex {
  readonly #connection: Duplex;
  #held: Held[] = [];
  #sendsSoon = false;
  /** The beginning of an outgoing packet whose end the client has still to write. */
  #begun: Buffer = Buffer.alloc(0);

  /** @param read what the client may see of a piece that came in */
  constructor(connection: Duplex, read: (chunk: Buffer) => Buffer) {
    super();
    this.#connection = connection;
    connection.on('data', (chunk: Buffer) => {
      const seen = read(chunk);
      if (seen.length > 0 && !this.push(seen)) connection.pause();
    });
    connection.on('end', () => this.push(null));
    connection.on('error', (error) => this.destroy(error));
    connection.on('close', () => this.destroy());
  }

  /** Returns what lets the PUBACK of this message go. */
  hold(messageId: number): () => void {
    const held: Held = { messageId, released: false };
    this.#held.push(held);
    return () => {
      held.released = true;
      if (this.#sendsSoon) return;
      this.#sendsSoon = true;
      // All of a commit in one piece.
      process.nextTick(() => {
        this.#sendReleased();
      });
    };
  }

  #sendReleased(): void {
    this.#sendsSoon = false;
    const waiting = this.#held.findIndex(({ released }) => !released);
    const ready = this.#held.splice(0, waiting < 0 ? this.#held.length : waiting);
    if (ready.length === 0 || !this.#connection.writable) return;
    const bytes = Buffer.alloc(ready.length * 4);
    for (const [at, { messageId }] of ready.entries()) {
      // Without a reason a PUBACK is the same in 3.1.1 and 5.
      bytes.writeUInt16BE((pubackByte << 8) | 2, at * 4);
      bytes.writeUInt16BE(messageId, at * 4 + 2);
    }
    this.#connection.write(bytes);
  }

  override _read(): void {
    this.#connection.resume();
  }

  override _writev(chunks: { chunk: Buffer }[], done: (error?: Error | null) => void): void {
    const bytes = Buffer.concat([this.#begun, ...chunks.map(({ chunk }) => chunk)]);
    const passing: Buffer[] = [];
    let at = 0;
    for (let header = headerAt(bytes, at); header; header = headerAt(bytes, at)) {
      const end = at + header.headerBytes + header.remaining;
      if (end > bytes.length) break;
      if (header.first !== pubackByte) passing.push(bytes.subarray(at, end));
      at = end;
    }
    this.#begun = bytes.subarray(at);
    if (passing.length === 0) done();
    else this.#connection.write(Buffer.concat(passing), done);
  }

  override _final(done: () => void): void {
    this.#connection.end(() => {
      done();
    });
  }

  override _destroy(error: Error | null, done: (error: Error | null) => void): void {
    this.#connection.destroy();
    done(error);
  }
}
