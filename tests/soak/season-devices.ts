/** The devices of a simulated season: what each sends at an instant, and what was acknowledged of it. */
import { openStore } from '../../server/store/store.ts';

export interface Sent {
  readonly topic: string;
  readonly payload: string;
  readonly key: string;
  /** The instant that it is to be stored at. */
  readonly storedMs: number;
  readonly value: number;
}

interface Device {
  readonly nuc: string;
  readonly name: string;
  readonly sensor: string;
  diedMs: number | null;
  /** How far its clock is ahead. */
  aheadMs: number;
}

interface Kept {
  readonly value: number;
  readonly acknowledgedMs: number;
}

const dayMs = 86_400_000;
const kinds = ['weight/', 'temperature/brood', 'temperature/cage', 'battery/'] as const;

/** Moves as a day does, and differs from one reading to the next; to the thousandth, as it is stored. */
function valueOf(kind: (typeof kinds)[number], device: number, atMs: number): number {
  const sun = Math.sin((2 * Math.PI * atMs) / dayMs);
  const small = ((device * 7919 + Math.floor(atMs / 1000)) % 97) / 1000;
  const value = {
    'weight/': 12 + 0.05 * sun,
    'temperature/brood': 34.4,
    'temperature/cage': 33 + sun,
    'battery/': 3.9,
  }[kind];
  return Math.round((value + small) * 1000) / 1000;
}

export class SeasonDevices {
  readonly #devices: Device[];
  /** By channel, then by instant. */
  readonly #kept = new Map<string, Map<number, Kept>>();
  count = 0;
  givenUp = 0;

  constructor(nucs: number) {
    this.#devices = Array.from({ length: nucs }, (_, i) => ({
      nuc: `nuc-${String(i)}`,
      name: `Nuc ${String(i)}`,
      sensor: `node-${String(i)}`,
      diedMs: null,
      aheadMs: 0,
    }));
  }

  get nucs(): readonly { readonly nuc: string; readonly name: string }[] {
    return this.#devices;
  }

  get dead(): readonly { readonly sensor: string; readonly diedMs: number }[] {
    return this.#devices.flatMap(({ sensor, diedMs }) => (diedMs === null ? [] : [{ sensor, diedMs }]));
  }

  nucOf(sensor: string): string | undefined {
    return this.#devices.find((device) => device.sensor === sensor)?.nuc;
  }

  die(device: number, atMs: number): void {
    this.#device(device).diedMs = atMs;
  }

  jump(device: number, aheadMs: number): void {
    this.#device(device).aheadMs = aheadMs;
  }

  readingsAt(nowMs: number): Sent[] {
    return this.#devices.flatMap(({ sensor, diedMs, aheadMs }, device) =>
      diedMs === null
        ? kinds.map((kind) => {
            const value = valueOf(kind, device, nowMs);
            const saidMs = nowMs + aheadMs;
            const unit = kind === 'battery/' ? { unit: 'V' } : {};
            return {
              topic: `welcomb/${sensor}/${kind.replace(/\/$/, '')}`,
              payload: JSON.stringify({ value, time: new Date(saidMs).toISOString(), ...unit }),
              key: `${sensor}/${kind}`,
              // A clock that is ahead is not believed: the moment of receipt counts.
              storedMs: Math.min(saidMs, nowMs),
              value,
            };
          })
        : [],
    );
  }

  acknowledged({ key, storedMs, value }: Sent, nowMs: number): void {
    let channel = this.#kept.get(key);
    if (!channel) this.#kept.set(key, (channel = new Map<number, Kept>()));
    channel.set(storedMs, { value, acknowledgedMs: nowMs });
    this.count += 1;
  }

  /** What was acknowledged after the backup is no more; returns that instant. */
  restoreTo(backupMs: number): number {
    for (const channel of this.#kept.values())
      for (const [storedMs, { acknowledgedMs }] of channel)
        if (acknowledgedMs > backupMs) {
          channel.delete(storedMs);
          this.givenUp += 1;
        }
    return backupMs;
  }

  /** What of it is not in the store, and what is there with another value. */
  check(file: string): { lost: number; wrong: number } {
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
          const stored = found.get(storedMs);
          if (stored === undefined) lost += 1;
          else if (Math.abs(stored - one.value) > 1e-9) wrong += 1;
        }
      }
    } finally {
      store.close();
    }
    return { lost, wrong };
  }

  #device(at: number): Device {
    const device = this.#devices[at];
    if (!device) throw new RangeError('so many devices there are not');
    return device;
  }
}
