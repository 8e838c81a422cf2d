/**
 * JSON as bytes. The thousands of numbers of a chart as texts that are joined outlive the young part of a small heap, and
 * every sixth chart waited until the whole heap was looked through.
 */
import { rounded } from './rounded.ts';

/** Setting: room to begin with, in bytes; a chart of three series takes some 90,000. */
const firstRoom = 65_536;
const signs = { comma: 0x2c, open: 0x5b, close: 0x5d } as const;

export class JsonBytes {
  #bytes = Buffer.allocUnsafe(firstRoom);
  #length = 0;

  /** JSON that is text already. */
  text(text: string): void {
    this.#makeRoom(3 * text.length);
    this.#length += this.#bytes.write(text, this.#length);
  }

  /** Begins a list as the next item. */
  open(): void {
    this.next();
    this.#put(signs.open);
  }

  /** A comma, but before the first item of a list. */
  next(): void {
    this.#makeRoom(2);
    if (this.#bytes[this.#length - 1] !== signs.open) this.#put(signs.comma);
  }

  close(): void {
    this.#makeRoom(1);
    this.#put(signs.close);
  }

  /** The next item, rounded to `digits` decimals, as `JSON.stringify` has it. */
  number(value: number, digits: number): void {
    this.next();
    this.text(JSON.stringify(rounded(value, digits)));
  }

  finish(): Uint8Array {
    return this.#bytes.subarray(0, this.#length);
  }

  #put(byte: number): void {
    this.#bytes[this.#length++] = byte;
  }

  #makeRoom(more: number): void {
    if (this.#length + more <= this.#bytes.length) return;
    const wider = Buffer.allocUnsafe(Math.max(2 * this.#bytes.length, this.#length + more));
    wider.set(this.#bytes);
    this.#bytes = wider;
  }
}
