/** Bits in, bits out, most significant first; with Rice codes for small whole numbers that are sometimes large. */

/** Quotients from here on are written as they are: an outlier must not cost a thousand bits. */
const escapeAt = 24;
const escapeBits = 54;
/** Powers of two by their exponent: `**` takes longer than all the rest of a code. */
const powers = Float64Array.from({ length: 54 }, (_, k) => 2 ** k);

/** 0, −1, 1, −2 … → 0, 1, 2, 3 … Exact up to 2^52. */
export const zigzag = (n: number): number => (n >= 0 ? n * 2 : -n * 2 - 1);
export const unzigzag = (n: number): number => (n % 2 === 0 ? n / 2 : -(n + 1) / 2);

export class BitWriter {
  #bytes = new Uint8Array(256);
  #bitLength = 0;

  /** The lowest `width` bits of a whole number ≥ 0; `width` up to 54. */
  write(value: number, width: number): void {
    if (width > 27) {
      const high = Math.floor(value / 2 ** 27);
      this.write(high, width - 27);
      this.write(value - high * 2 ** 27, 27);
      return;
    }
    const needed = ((this.#bitLength + width) >>> 3) + 5;
    if (needed > this.#bytes.length) this.#grow(needed);
    for (let left = width; left > 0;) {
      const at = this.#bitLength >>> 3;
      const free = 8 - (this.#bitLength & 7);
      const take = Math.min(free, left);
      const part = (value >>> (left - take)) & ((1 << take) - 1);
      this.#bytes[at] = (this.#bytes[at] ?? 0) | (part << (free - take));
      this.#bitLength += take;
      left -= take;
    }
  }

  /** Whole number ≥ 0 up to 2^53: its quotient by 2^k in ones, then k bits. */
  writeRice(value: number, k: number): void {
    const power = powers[k] ?? 1;
    const quotient = Math.floor(value / power);
    if (quotient >= escapeAt) {
      this.write(2 ** escapeAt - 1, escapeAt);
      this.write(value, escapeBits);
      return;
    }
    this.write(((1 << quotient) - 1) << 1, quotient + 1);
    if (k > 0) this.write(value - quotient * power, k);
  }

  /** Whole number ≥ 0, seven bits a group, the first bit of each group says that another follows. */
  writeVarint(value: number): void {
    for (let rest = value; ; rest = Math.floor(rest / 128)) {
      const more = rest >= 128;
      this.write((more ? 128 : 0) + (rest % 128), 8);
      if (!more) return;
    }
  }

  finish(): Uint8Array {
    return this.#bytes.slice(0, (this.#bitLength + 7) >>> 3);
  }

  #grow(needed: number): void {
    const wider = new Uint8Array(Math.max(needed, this.#bytes.length * 2));
    wider.set(this.#bytes);
    this.#bytes = wider;
  }
}

/** Bits that `writeRice` takes for `codes[from..to)`, for choosing k. */
export function riceBits(codes: Float64Array, from: number, to: number, k: number): number {
  const share = 1 / (powers[k] ?? 1);
  let bits = (to - from) * (1 + k);
  for (let i = from; i < to; i += 1) {
    const quotient = Math.floor((codes[i] ?? 0) * share);
    bits += quotient >= escapeAt ? escapeAt + escapeBits - 1 - k : quotient;
  }
  return bits;
}

export class BitReader {
  readonly #view: DataView;
  readonly #bits: number;
  #at = 0;

  constructor(bytes: Uint8Array) {
    this.#view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    this.#bits = bytes.byteLength * 8;
  }

  /** The next 32 bits, at least 25 of them right; zeros behind the end. */
  #ahead(): number {
    const byte = this.#at >>> 3;
    if (byte + 4 <= this.#view.byteLength) return this.#view.getUint32(byte) << (this.#at & 7);
    let word = 0;
    for (let i = 0; i < 4; i += 1) {
      word = (word << 8) | (byte + i < this.#view.byteLength ? this.#view.getUint8(byte + i) : 0);
    }
    return word << (this.#at & 7);
  }

  /** Up to 54 bits. Throws `RangeError` behind the end. */
  read(width: number): number {
    if (width === 0) return 0;
    if (width > 25) {
      const high = this.read(width - 25);
      return high * 2 ** 25 + this.read(25);
    }
    const value = this.#ahead() >>> (32 - width);
    this.#skip(width);
    return value;
  }

  #skip(width: number): void {
    this.#at += width;
    if (this.#at > this.#bits) throw new RangeError('stored readings end too early');
  }

  readRice(k: number): number {
    const quotient = Math.clz32(~this.#ahead());
    if (quotient >= escapeAt) {
      this.#skip(escapeAt);
      return this.read(escapeBits);
    }
    this.#skip(quotient + 1);
    return k === 0 ? quotient : quotient * (powers[k] ?? 1) + this.read(k);
  }

  /**
   * Fills `into[from..to)` with `value += (usual + code) * step`, the codes being zigzagged Rice codes of one width.
   * The same as `readRice` in a loop, but a season's worth of it has to be quick: a code that fits into the word
   * ahead is taken out of it in one go.
   */
  readSteps(into: Float64Array, from: number, to: number, k: number, usual: number, step: number): void {
    const view = this.#view;
    const lastWord = view.byteLength - 4;
    let at = this.#at;
    let value = into[from - 1] ?? 0;
    for (let i = from; i < to; i += 1) {
      const byte = at >>> 3;
      const word = byte <= lastWord ? view.getUint32(byte) << (at & 7) : 0;
      const quotient = Math.clz32(~word);
      const width = quotient + 1 + k;
      let code: number;
      if (byte <= lastWord && width <= 25 && quotient < escapeAt) {
        const zigzagged = (quotient << k) | (((word << (quotient + 1)) >>> 1) >>> (31 - k));
        code = (zigzagged >>> 1) ^ -(zigzagged & 1);
        at += width;
      } else {
        this.#at = at;
        code = unzigzag(this.readRice(k));
        at = this.#at;
      }
      value += (usual + code) * step;
      into[i] = value;
    }
    this.#at = at;
  }

  readVarint(): number {
    let value = 0;
    for (let scale = 1; ; scale *= 128) {
      const group = this.read(8);
      value += (group & 127) * scale;
      if (group < 128) return value;
    }
  }
}
