/**
 * Very many readings with the values and rhythms of real hives, cheap enough for a bench of ten million.
 * A handful of channels per hive: weight, brood and cage temperature, battery; per eight hives a site with
 * outside temperature and humidity. Values lie on the steps of their sensors, times wander by seconds.
 */
import type { Quantity, StoredUnit } from '../server/units.ts';
import { rngFor, type Rng } from './random.ts';

export interface BenchChannel {
  readonly sensor: string;
  readonly quantity: Quantity;
  readonly probe: string;
  readonly unit: StoredUnit;
  readonly everyMs: number;
}

/** Up to `value.length` readings in ascending order of time; the arrays are used again for the next batch. */
export interface ReadingBatch {
  /** Index into `channels`. */
  readonly channel: Int32Array;
  readonly atMs: Float64Array;
  readonly value: Float64Array;
  /** How many of the arrays' places are filled. */
  length: number;
}

export interface BenchOptions {
  readonly seed: number;
  readonly hives: number;
  readonly fromMs: number;
  /** Readings in all. */
  readonly count: number;
  /** Interval of weight and temperatures; five minutes by default. */
  readonly everyMs?: number;
  readonly batch?: number;
}

interface Rhythm {
  readonly channel: BenchChannel;
  readonly step: number;
  /** Next value at an instant; `sky` is the site's shared day, −1 to 1. */
  next(sky: number, rng: Rng): number;
}

/** A device tells all its channels at one instant, in its own slot of the interval, give or take seconds. */
interface BenchDevice {
  readonly rhythms: readonly { readonly index: number; readonly rhythm: Rhythm }[];
}

/** The channels that a bench of so many hives has, in the order of their indexes. */
export function benchChannels(options: BenchOptions): readonly BenchChannel[] {
  return devicesOf(options).flatMap(({ rhythms }) => rhythms.map(({ rhythm }) => rhythm.channel));
}

export function* benchReadings(options: BenchOptions): Generator<ReadingBatch, void, undefined> {
  const devices = devicesOf(options);
  const rng = rngFor(options.seed, 'bench');
  const size = options.batch ?? 1000;
  const everyMs = options.everyMs ?? usualEveryMs;
  const slotMs = everyMs / devices.length;
  const batch: ReadingBatch = {
    channel: new Int32Array(size),
    atMs: new Float64Array(size),
    value: new Float64Array(size),
    length: 0,
  };
  let left = options.count;
  for (let roundMs = options.fromMs; left > 0; roundMs += everyMs) {
    const sky = Math.sin((2 * Math.PI * ((roundMs % dayMs) - 9 * 3_600_000)) / dayMs);
    for (const [slot, { rhythms }] of devices.entries()) {
      const atMs = Math.floor(roundMs + slotMs * slot + rng.uniform() * Math.min(2000, slotMs - 1));
      for (const { index, rhythm } of rhythms) {
        if (left === 0 || (roundMs - options.fromMs) % rhythm.channel.everyMs !== 0) continue;
        batch.channel[batch.length] = index;
        batch.atMs[batch.length] = atMs;
        batch.value[batch.length] = Math.round(rhythm.next(sky, rng) / rhythm.step) * rhythm.step;
        batch.length++;
        left--;
        if (batch.length < size && left > 0) continue;
        yield batch;
        batch.length = 0;
      }
    }
  }
}

const usualEveryMs = 300_000;
const dayMs = 86_400_000;

function devicesOf({ seed, hives, everyMs = usualEveryMs }: BenchOptions): BenchDevice[] {
  const rng = rngFor(seed, 'bench channels');
  const devices: BenchDevice[] = [];
  let index = 0;
  const add = (sensor: string, rows: readonly RhythmRow[]): void => {
    const rhythms = rows.map(([quantity, probe, unit, step, next, slower = 1]) => {
      const channel = { sensor, quantity, probe, unit, everyMs: everyMs * slower };
      return { index: index++, rhythm: { channel, step, next } };
    });
    devices.push({ rhythms });
  };
  for (let hive = 0; hive < hives; hive++) {
    add(`bench-${String(hive).padStart(4, '0')}`, [
      ['weight', '', 'kg', 0.001, weightRhythm(rng)],
      ['temperature', 'brood', 'Cel', 0.0625, levelRhythm(rng, 34.4, 0.3)],
      ['temperature', 'cage', 'Cel', 0.0625, levelRhythm(rng, 31, 1.6)],
      ['battery', '', '%EL', 1, batteryRhythm(rng), 12],
    ]);
    if (hive % 8 !== 0) continue;
    add(`bench-sky-${String(hive / 8).padStart(3, '0')}`, [
      ['temperature', '', 'Cel', 0.0625, levelRhythm(rng, 15, 7)],
      ['humidity', '', '%RH', 0.1, levelRhythm(rng, 68, -18)],
    ]);
  }
  return devices;
}

type RhythmRow = readonly [
  quantity: Quantity,
  probe: string,
  unit: StoredUnit,
  step: number,
  next: Rhythm['next'],
  slower?: number,
];

/** A day's dip of some tens of grams on a slow fall, with the noise of a load cell. */
function weightRhythm(setUp: Rng): Rhythm['next'] {
  let level = setUp.between(9, 16);
  const noise = setUp.between(0.003, 0.01);
  const dip = setUp.between(0.02, 0.12);
  return (sky, rng) => {
    level -= 0.00015 * rng.uniform();
    return level - dip * Math.max(0, sky) + noise * rng.normal();
  };
}

/** A level that follows the day by `swing` and wanders. */
function levelRhythm(setUp: Rng, level: number, swing: number): Rhythm['next'] {
  let wandering = 0;
  const own = level + setUp.between(-0.5, 0.5);
  const kick = 0.05 + 0.02 * Math.abs(swing);
  return (sky, rng) => {
    wandering = 0.97 * wandering + kick * rng.normal() * 0.3;
    return own + swing * sky + wandering;
  };
}

function batteryRhythm(setUp: Rng): Rhythm['next'] {
  let level = setUp.between(60, 100);
  return () => Math.max(0, (level -= 0.005));
}
