/**
 * JSON as bytes. The thousands of numbers of a chart as texts that are joined outlive the young part of a small heap, and
 * every sixth chart waited until the whole heap was looked through.
 */
import { rounded } from './rounded.ts';

/** Setting: room to begin with, in bytes; a chart of three series takes some 90,000. */
const firstRoom = 65_536;
/** Whole numbers below this have one way of being written in so many digits. */
const exactBelow = 1e15;
const longest = 16;
const signs = { zero: 0x30, point: 0x2e, minus: 0x2d, comma: 0x2c, open: 0x5b, close: 0x5d } as const;
const encoder = new TextEncoder();

export class JsonBytes {
  #bytes = new Uint8Array(firstRoom);
  #length = 0;
  readonly #digits = new Uint8Array(longest);

  /** JSON that is text already. */
  text(text: string): void {
    this.#makeRoom(3 * text.length);
    this.#length += encoder.encodeInto(text, this.#bytes.subarray(this.#length)).written;
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
    const scale = 10 ** digits;
    const scaled = Math.abs(Math.round(value * scale));
    if (!(scaled < exactBelow)) {
      this.text(JSON.stringify(rounded(value, digits)));
      return;
    }
    this.#makeRoom(2 * longest);
    if (value < 0 && scaled > 0) this.#put(signs.minus);
    const whole = Math.floor(scaled / scale);
    this.#whole(whole, 1);
    let rest = scaled - whole * scale;
    if (rest === 0) return;
    let places = digits;
    for (; rest % 10 === 0; rest /= 10) places -= 1;
    this.#put(signs.point);
    this.#whole(rest, places);
  }

  finish(): Uint8Array {
    return this.#bytes.subarray(0, this.#length);
  }

  /** With zeros before it, if it has fewer digits than `places`. */
  #whole(value: number, places: number): void {
    let at = longest;
    for (let rest = value; rest > 0 || longest - at < places;) {
      const tenth = Math.floor(rest / 10);
      this.#digits[--at] = signs.zero + rest - 10 * tenth;
      rest = tenth;
    }
    while (at < longest) this.#put(this.#digits[at++] as number);
  }

  #put(byte: number): void {
    this.#bytes[this.#length++] = byte;
  }

  #makeRoom(more: number): void {
    if (this.#length + more <= this.#bytes.length) return;
    const wider = new Uint8Array(Math.max(2 * this.#bytes.length, this.#length + more));
    wider.set(this.#bytes);
    this.#bytes = wider;
  }
}
