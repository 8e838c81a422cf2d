/**
 * Something kept for each channel, found by what a reading says of itself. Looked up for every reading that comes in: a
 * key joined of its four parts would be written and hashed each time, while the parts are mostly texts met before.
 */
import type { Quantity, StoredUnit } from '../units.ts';

export interface ChannelKey {
  readonly sensor: string;
  readonly quantity: Quantity;
  readonly probe: string;
  readonly unit: StoredUnit;
}

interface Entry<T> {
  readonly quantity: Quantity;
  readonly unit: StoredUnit;
  kept: T;
}

export class ByChannel<T> {
  /** A probe has few quantities, each in a unit or two: they are looked through. */
  readonly #bySensor = new Map<string, Map<string, Entry<T>[]>>();
  #count = 0;

  get size(): number {
    return this.#count;
  }

  get(key: ChannelKey): T | undefined {
    return entryOf(this.#bySensor.get(key.sensor)?.get(key.probe), key)?.kept;
  }

  set(key: ChannelKey, kept: T): void {
    const { sensor, probe, quantity, unit } = key;
    let byProbe = this.#bySensor.get(sensor);
    if (!byProbe) this.#bySensor.set(sensor, (byProbe = new Map<string, Entry<T>[]>()));
    const entries = byProbe.get(probe);
    const entry = entryOf(entries, key);
    if (entry) {
      entry.kept = kept;
      return;
    }
    this.#count += 1;
    if (entries) entries.push({ quantity, unit, kept });
    else byProbe.set(probe, [{ quantity, unit, kept }]);
  }

  clear(): void {
    this.#bySensor.clear();
    this.#count = 0;
  }
}

function entryOf<T>(entries: Entry<T>[] | undefined, { quantity, unit }: ChannelKey): Entry<T> | undefined {
  if (entries) {
    for (const entry of entries) if (entry.quantity === quantity && entry.unit === unit) return entry;
  }
  return undefined;
}
