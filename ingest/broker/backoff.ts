/** The pause before the next attempt to connect: doubles up to the longest, until a connection lasted. */
export class Backoff {
  readonly #firstMs: number;
  readonly #longestMs: number;
  #nextMs: number;

  constructor(firstMs: number, longestMs: number) {
    this.#firstMs = firstMs;
    this.#longestMs = longestMs;
    this.#nextMs = firstMs;
  }

  /**
   * Milliseconds.
   * @param lastedMs how long the connection stood that ended; 0 where none came about. Begins anew where it stood as
   * long as the longest pause.
   */
  pauseMs(lastedMs: number): number {
    if (lastedMs >= this.#longestMs) this.#nextMs = this.#firstMs;
    const pauseMs = this.#nextMs;
    this.#nextMs = Math.min(this.#longestMs, pauseMs * 2);
    return pauseMs;
  }
}
