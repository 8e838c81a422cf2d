/** Complaints about connections, so that no stranger can fill the log: short ones, and only some of them a minute. */
const windowMs = 60_000;
const maxLines = 10;
const maxCharacters = 200;

/** Letters, digits and signs that a terminal shows as they are. */
const unprintable = /[\p{Cc}\p{Cf}\p{Zl}\p{Zp}\p{Co}\p{Cs}]/gu;

export class ConnectionLog {
  readonly #write: (sentence: string) => void;
  readonly #clock: () => number;
  #sinceMs = 0;
  #lines = 0;
  #leftOut = 0;

  constructor(write: (sentence: string) => void, clock: () => number) {
    this.#write = write;
    this.#clock = clock;
  }

  warn(sentence: string): void {
    const nowMs = this.#clock();
    if (Math.abs(nowMs - this.#sinceMs) >= windowMs) {
      if (this.#leftOut > 0)
        this.#write(`${String(this.#leftOut)} more complaints about connections left out.`);
      this.#sinceMs = nowMs;
      this.#lines = 0;
      this.#leftOut = 0;
    }
    if (this.#lines >= maxLines) {
      this.#leftOut += 1;
      return;
    }
    this.#lines += 1;
    // Cut first: the text may be long.
    const short = sentence.length > maxCharacters ? `${sentence.slice(0, maxCharacters)}…` : sentence;
    this.#write(short.replace(unprintable, '?'));
  }
}
