/** What devices sent and were told is kept: each of it has to be in the store afterwards, with its value. */
import { openStore } from '../../server/store/store.ts';

export interface Sent {
  readonly topic: string;
  readonly payload: string;
  /** Sensor, quantity and probe. */
  readonly key: string;
  /** The instant that it is to be stored at. */
  readonly storedMs: number;
  readonly value: number;
}

interface Kept {
  readonly value: number;
  readonly acknowledgedMs: number;
}

/** Values are stored to the thousandth. */
const nearestStored = 0.0005 + 1e-9;

export class Acknowledged {
  /** By channel, then by instant. */
  readonly #kept = new Map<string, Map<number, Kept>>();
  count = 0;
  givenUp = 0;

  take({ key, storedMs, value }: Sent, nowMs: number): void {
    let channel = this.#kept.get(key);
    if (!channel) this.#kept.set(key, (channel = new Map<number, Kept>()));
    channel.set(storedMs, { value, acknowledgedMs: nowMs });
    this.count += 1;
  }

  /** What was acknowledged after the backup is no more. */
  restoreTo(backupMs: number): void {
    for (const channel of this.#kept.values())
      for (const [storedMs, { acknowledgedMs }] of channel)
        if (acknowledgedMs > backupMs) {
          channel.delete(storedMs);
          this.givenUp += 1;
        }
  }

  /** What of it, up to `untilMs`, is not in the store, and what is there with another value. */
  check(file: string, untilMs = Infinity): { lost: number; wrong: number } {
    const store = openStore({ file, readonly: true });
    let [lost, wrong] = [0, 0];
    try {
      const ids = new Map(
        store.channels
          .list()
          .map(({ id, sensor, quantity, probe }) => [`${sensor}/${quantity}/${probe}`, id]),
      );
      for (const [key, kept] of this.#kept) {
        const { atMs, value } = store.readings.query({
          channelId: ids.get(key) ?? -1,
          fromMs: 0,
          toMs: Number.MAX_SAFE_INTEGER,
          resolution: 'raw',
          includeSuspect: true,
          limit: Number.MAX_SAFE_INTEGER,
        });
        const found = new Map(Array.from(atMs, (at, i) => [at, value[i]]));
        for (const [storedMs, one] of kept) {
          if (one.acknowledgedMs > untilMs) continue;
          const stored = found.get(storedMs);
          if (stored === undefined) lost += 1;
          else if (Math.abs(stored - one.value) > nearestStored) wrong += 1;
        }
      }
    } finally {
      store.close();
    }
    return { lost, wrong };
  }
}
