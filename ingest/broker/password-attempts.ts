/** Wrong passwords by address. An attempt counts from before its check, so that many at once are not all checked. */
const windowMs = 60_000;
const maxAttempts = 10;
const maxAddresses = 10_000;

interface Attempts {
  count: number;
  sinceMs: number;
}

export class PasswordAttempts {
  readonly #clock: () => number;
  readonly #byAddress = new Map<string, Attempts>();

  constructor(clock: () => number) {
    this.#clock = clock;
  }

  /** False where the address has to wait. */
  reserve(address: string): boolean {
    const nowMs = this.#clock();
    let attempts = this.#byAddress.get(address);
    if (!attempts || Math.abs(nowMs - attempts.sinceMs) > windowMs) {
      this.#byAddress.delete(address);
      attempts = { count: 0, sinceMs: nowMs };
      this.#byAddress.set(address, attempts);
      const [oldest] = this.#byAddress.keys();
      if (this.#byAddress.size > maxAddresses && oldest !== undefined) this.#byAddress.delete(oldest);
    }
    if (attempts.count >= maxAttempts) return false;
    attempts.count += 1;
    return true;
  }

  /** The password was right, or was not checked. */
  giveBack(address: string): void {
    const attempts = this.#byAddress.get(address);
    if (attempts && attempts.count > 0) attempts.count -= 1;
  }
}
