/** From what a sensor would read each minute to what arrives: sampling, gaps, late batches, wrong clocks, duplicates. */
import { faulty, type Place, type SensorFault } from './faults.ts';
import type { NucParameters } from '../parameters.ts';
import { hourMs, minuteMs } from '../place.ts';
import { rngFor } from '../random.ts';

/** Readings of one place in the order in which they were taken. All arrays have one length. */
export interface PlaceReadings {
  readonly place: Place;
  readonly quantity: 'weight' | 'temperature' | 'humidity' | 'battery' | 'rain';
  readonly unit: 'kg' | 'Cel' | '%RH' | '%EL' | 'mm';
  /** When it was truly taken, what the sensor's clock said, and when it arrived, ms. */
  readonly takenAtMs: Float64Array;
  readonly stampedAtMs: Float64Array;
  readonly arrivedAtMs: Float64Array;
  readonly value: Float64Array;
  /** How often it was sent: 1, or 2 for a duplicate. */
  readonly copies: Uint8Array;
}

/** A device's own troubles, minute by minute: the same for every probe on it. */
export interface Connection {
  /** 1 where nothing is sent. */
  readonly lost: Uint8Array;
  /** Minutes until what is taken now arrives. */
  readonly delayMin: Float32Array;
  /** Error of the device's clock, ms. */
  readonly clockErrorMs: Float64Array;
  readonly duplicateShare: number;
}

export interface Outage {
  readonly fromMs: number;
  readonly toMs: number;
  /** Kept by the devices and sent afterwards, or lost. */
  readonly kept: boolean;
}

export function connectionOf(
  seed: number,
  device: string,
  p: NucParameters,
  startMs: number,
  minutes: number,
  outages: readonly Outage[],
): Connection {
  const rng = rngFor(seed, `line ${device}`);
  const connection: Connection = {
    lost: new Uint8Array(minutes),
    delayMin: new Float32Array(minutes),
    clockErrorMs: new Float64Array(minutes),
    duplicateShare: p.duplicateShare,
  };
  // Gaps have an exponential length of 45 minutes on average; their rate gives the wanted share.
  const gapMin = 45;
  const startChance = p.gapShare / (gapMin * (1 - p.gapShare));
  let gap = 0;
  let late = 0;
  let wrong = 0;
  let errorMs = 0;
  for (let i = 0; i < minutes; i++) {
    const roll = rng.uniform();
    const lateRoll = rng.uniform();
    const clockRoll = rng.uniform();
    const length = rng.uniform();
    if (gap <= 0 && roll < startChance) gap = 1 - gapMin * Math.log(1 - length);
    if (late <= 0 && lateRoll < p.lateBatchesPerDay / 1440) late = Math.round(120 + 480 * length);
    if (wrong <= 0 && clockRoll < p.wrongClocksPerDay / 1440) {
      wrong = Math.round(20 + 100 * length);
      // After a reboot the clock starts at 1970, or leaps some years ahead.
      errorMs = length < 0.7 ? -(startMs + i * minuteMs) : 2.5 * 365 * 24 * hourMs;
    }
    if (gap-- > 0) connection.lost[i] = 1;
    if (late > 0) connection.delayMin[i] = late--;
    if (wrong-- > 0) connection.clockErrorMs[i] = errorMs;
  }
  for (const outage of outages) holdBack(connection, outage, startMs);
  return connection;
}

function holdBack(connection: Connection, { fromMs, toMs, kept }: Outage, startMs: number): void {
  const [from, to] = [Math.floor((fromMs - startMs) / minuteMs), Math.ceil((toMs - startMs) / minuteMs)];
  for (let i = Math.max(0, from); i < Math.min(to, connection.lost.length); i++) {
    if (kept) connection.delayMin[i] = to - i;
    else connection.lost[i] = 1;
  }
}

export interface Sampling {
  readonly place: Place;
  readonly quantity: PlaceReadings['quantity'];
  readonly unit: PlaceReadings['unit'];
  readonly everyMinutes: number;
  /** Minute and second of the first sample. */
  readonly offsetMin: number;
  readonly offsetMs: number;
  readonly faults: readonly SensorFault[];
  /** From this minute on the sensor is gone with the box. */
  readonly goneFromMin: number;
  /** Sum over the interval instead of the value at its end (rain). */
  readonly summed: boolean;
}

export function deliver(
  seed: number,
  sampling: Sampling,
  minuteValues: Float64Array,
  connection: Connection,
  startMs: number,
): PlaceReadings {
  const rng = rngFor(seed, `delivery ${sampling.place}`);
  const { everyMinutes, offsetMin, offsetMs, place, quantity, unit } = sampling;
  const most = Math.ceil(minuteValues.length / everyMinutes);
  const takenAtMs = new Float64Array(most);
  const stampedAtMs = new Float64Array(most);
  const arrivedAtMs = new Float64Array(most);
  const value = new Float64Array(most);
  const copies = new Uint8Array(most);
  const stuckAt = sampling.faults.map((fault) => minuteValues[Math.round(fault.fromDay * 1440)] ?? 0);
  let n = 0;
  for (let i = offsetMin; i < Math.min(minuteValues.length, sampling.goneFromMin); i += everyMinutes) {
    const roll = rng.uniform();
    const duplicate = rng.uniform() < connection.duplicateShare;
    if (connection.lost[i]) continue;
    const plain = sampling.summed ? sumOver(minuteValues, i, everyMinutes) : (minuteValues[i] ?? 0);
    const faulty = withFaults(sampling.faults, stuckAt, plain, i / 1440, roll);
    if (faulty === null) continue;
    const takenMs = startMs + i * minuteMs + offsetMs;
    takenAtMs[n] = takenMs;
    stampedAtMs[n] = takenMs + (connection.clockErrorMs[i] ?? 0);
    arrivedAtMs[n] = takenMs + (connection.delayMin[i] ?? 0) * minuteMs + underwayMs;
    value[n] = faulty;
    copies[n] = duplicate ? 2 : 1;
    n++;
  }
  return {
    place,
    quantity,
    unit,
    takenAtMs: takenAtMs.subarray(0, n),
    stampedAtMs: stampedAtMs.subarray(0, n),
    arrivedAtMs: arrivedAtMs.subarray(0, n),
    value: value.subarray(0, n),
    copies: copies.subarray(0, n),
  };
}

/** From the sensor to the broker when nothing is in the way. */
const underwayMs = 400;

function sumOver(values: Float64Array, end: number, minutes: number): number {
  let sum = 0;
  for (let i = Math.max(0, end - minutes + 1); i <= end; i++) sum += values[i] ?? 0;
  return Math.round(sum * 100) / 100;
}

function withFaults(
  faults: readonly SensorFault[],
  stuckAt: readonly number[],
  plain: number,
  day: number,
  roll: number,
): number | null {
  let value: number | null = plain;
  for (const [index, fault] of faults.entries()) {
    if (value === null || day < fault.fromDay || day >= (fault.untilDay ?? Infinity)) continue;
    value = faulty(fault, value, stuckAt[index] ?? value, day - fault.fromDay, roll);
  }
  return value;
}
