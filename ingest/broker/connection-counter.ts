/** How many connections one address may have, and how many may be open that have not shown a name and password yet. */
import type { Connection } from './connection.ts';

export interface ConnectionCaps {
  readonly perAddress: number;
  /** Of these, not admitted yet. */
  readonly unadmittedPerAddress: number;
  readonly unadmitted: number;
}

export class ConnectionCounter {
  readonly #caps: ConnectionCaps;
  readonly #byAddress = new Map<string, { all: number; unadmitted: number }>();
  #unadmitted = 0;

  constructor(caps: ConnectionCaps) {
    this.#caps = caps;
  }

  /** Why there is no room for one more from this address; undefined where there is. */
  whyFull(address: string): string | undefined {
    const { all, unadmitted } = this.#byAddress.get(address) ?? { all: 0, unadmitted: 0 };
    const { perAddress, unadmittedPerAddress } = this.#caps;
    if (all >= perAddress) return `${address} has ${String(all)} open already`;
    if (unadmitted >= unadmittedPerAddress)
      return `${address} has ${String(unadmitted)} open that have not signed in yet`;
    if (this.#unadmitted >= this.#caps.unadmitted)
      return `${String(this.#unadmitted)} are open that have not signed in yet`;
    return undefined;
  }

  /** Counts it until it closes. */
  add(connection: Connection): void {
    this.#change(connection.address, 1, 1);
    connection.once('close', () => {
      this.#change(connection.address, -1, connection.isAdmitted ? 0 : -1);
    });
  }

  admit(connection: Connection): void {
    if (connection.isAdmitted) return;
    connection.isAdmitted = true;
    if (!connection.closed) this.#change(connection.address, 0, -1);
  }

  #change(address: string, all: number, unadmitted: number): void {
    this.#unadmitted += unadmitted;
    const before = this.#byAddress.get(address) ?? { all: 0, unadmitted: 0 };
    const now = { all: before.all + all, unadmitted: before.unadmitted + unadmitted };
    if (now.all === 0) this.#byAddress.delete(address);
    else this.#byAddress.set(address, now);
  }
}
