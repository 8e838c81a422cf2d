/** Steady made-up devices under settled hives: what each sends at an instant. They die, and their clocks jump. */
import type { Sent } from './acknowledged.ts';

interface Device {
  readonly nuc: string;
  readonly name: string;
  readonly sensor: string;
  diedMs: number | null;
  /** How far its clock is ahead. */
  aheadMs: number;
  /** Its clock was behind once. */
  wasBehind: boolean;
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

  constructor(nucs: number) {
    this.#devices = Array.from({ length: nucs }, (_, i) => ({
      nuc: `settled-${String(i)}`,
      name: `Settled ${String(i)}`,
      sensor: `node-${String(i)}`,
      diedMs: null,
      aheadMs: 0,
      wasBehind: false,
    }));
  }

  get nucs(): readonly { readonly nuc: string; readonly name: string }[] {
    return this.#devices;
  }

  get dead(): readonly { readonly sensor: string; readonly diedMs: number }[] {
    return this.#devices.flatMap(({ sensor, diedMs }) => (diedMs === null ? [] : [{ sensor, diedMs }]));
  }

  /** Hives whose device had a clock that was behind. */
  get behind(): readonly string[] {
    return this.#devices.flatMap(({ nuc, wasBehind }) => (wasBehind ? [nuc] : []));
  }

  nucOf(sensor: string): string | undefined {
    return this.#devices.find((device) => device.sensor === sensor)?.nuc;
  }

  die(device: number, atMs: number): void {
    this.#device(device).diedMs = atMs;
  }

  jump(device: number, aheadMs: number): void {
    const one = this.#device(device);
    one.aheadMs = aheadMs;
    one.wasBehind ||= aheadMs < 0;
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

  #device(at: number): Device {
    const device = this.#devices[at];
    if (!device) throw new RangeError('so many devices there are not');
    return device;
  }
}
