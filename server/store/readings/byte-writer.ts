/** Whole bytes out: what `BitWriter` writes where every number takes whole bytes, without minding the bits in between. */
export class ByteWriter {
  #bytes = new Uint8Array(4096);
  #length = 0;

  writeByte(value: number): void {
    if (this.#length === this.#bytes.length) this.#grow();
    this.#bytes[this.#length] = value;
    this.#length += 1;
  }

  /** Whole number ≥ 0 up to 2^53, seven bits a byte; the first bit of each says that another follows. */
  writeVarint(value: number): void {
    let rest = value;
    // Bit operations know 32 bits only.
    for (; rest > 0x7fff_ffff; rest = Math.floor(rest / 128)) this.writeByte(128 + (rest % 128));
    for (; rest >= 128; rest >>>= 7) this.writeByte(128 | (rest & 127));
    this.writeByte(rest);
  }

  finish(): Uint8Array {
    return this.#bytes.slice(0, this.#length);
  }

  #grow(): void {
    const wider = new Uint8Array(this.#bytes.length * 2);
    wider.set(this.#bytes);
    this.#bytes = wider;
  }
}
