/** How many connections one address may have, and how many may be open that have not shown a name and password yet. */
import type { Connection } from './connection.ts';

export interface ConnectionCaps {
  readonly perAddress: number;
  /** Of these, not authenticated yet. */
  readonly unauthenticatedPerAddress: number;
  readonly unauthenticated: number;
}

/** Behind a proxy, or in a container, all devices may come from one address. */
export const defaultConnectionCaps: ConnectionCaps = {
  perAddress: 250,
  unauthenticatedPerAddress: 100,
  unauthenticated: 200,
};

export class ConnectionCounter {
  readonly #caps: ConnectionCaps;
  readonly #byAddress = new Map<string, { all: number; unauthenticated: number }>();
  #unauthenticated = 0;

  constructor(caps: ConnectionCaps) {
    this.#caps = caps;
  }

  /** Why there is no room for one more from this address; undefined where there is. */
  whyFull(address: string): string | undefined {
    const { all, unauthenticated } = this.#byAddress.get(address) ?? { all: 0, unauthenticated: 0 };
    const { perAddress, unauthenticatedPerAddress } = this.#caps;
    if (all >= perAddress) return `${address} has ${String(all)} open already`;
    if (unauthenticated >= unauthenticatedPerAddress)
      return `${address} has ${String(unauthenticated)} open that have not signed in yet`;
    if (this.#unauthenticated >= this.#caps.unauthenticated)
      return `${String(this.#unauthenticated)} are open that have not signed in yet`;
    return undefined;
  }

  /** Counts it until it closes. */
  add(connection: Connection): void {
    this.#change(connection.address, 1, 1);
    connection.once('close', () => {
      this.#change(connection.address, -1, connection.isAuthenticated ? 0 : -1);
    });
  }

  authenticated(connection: Connection): void {
    if (connection.isAuthenticated) return;
    connection.isAuthenticated = true;
    if (!connection.closed) this.#change(connection.address, 0, -1);
  }

  #change(address: string, all: number, unauthenticated: number): void {
    this.#unauthenticated += unauthenticated;
    const before = this.#byAddress.get(address) ?? { all: 0, unauthenticated: 0 };
    const now = { all: before.all + all, unauthenticated: before.unauthenticated + unauthenticated };
    if (now.all === 0) this.#byAddress.delete(address);
    else this.#byAddress.set(address, now);
  }
}
