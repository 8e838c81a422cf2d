/** Readings of one channel on one UTC day, in columns, strictly ascending in time. */
import type { SuspectReason } from '../port.ts';
import { dayMs } from '../../durations.ts';
export { dayMs, hourMs } from '../../durations.ts';

/** UTC day number since 1970. Site-local days are made by readers, from hours. */
export const dayOf = (atMs: number): number => Math.floor(atMs / dayMs);

/** Of a UTC day, as YYYY-MM-DD. */
export const dateOf = (day: number): string => new Date(day * dayMs).toISOString().slice(0, 10);

/** Channel-days are keyed by one integer: channel × 65536 + UTC day, so that a span of a channel is one range. */
export const daysPerChannel = 65_536;
export const dayKey = (channelId: number, day: number): number => channelId * daysPerChannel + day;
export const dayOfKey = (key: number): number => key % daysPerChannel;

/** Values are stored as whole millionths of the channel's unit. */
const microPerUnit = 1_000_000;
export const toMicro = (value: number): number =>
  // Without the negative zero, which is no other value.
  Math.round(value * microPerUnit) || 0;
export const fromMicro = (micro: number): number => micro / microPerUnit;

/** Numbers in files: only ever add at the end. */
const suspectReasons = ['', 'sentinel', 'range', 'rate', 'spike', 'stuck', 'clock', 'uncalibrated'] as const;
export type SuspectCode = number;
export const suspectCode = (reason: SuspectReason | undefined): SuspectCode =>
  reason === undefined ? 0 : suspectReasons.indexOf(reason);
export const suspectReason = (code: SuspectCode): SuspectReason | undefined => {
  const reason = suspectReasons[code];
  return reason === undefined || reason === '' ? undefined : reason;
};

/** Something is wrong with the reading; counts that wait for a calibration are as they should be. */
export const isDoubtful = (code: SuspectCode): boolean =>
  code !== 0 && suspectReason(code) !== 'uncalibrated';

export const isWrongClock = (code: SuspectCode): boolean => suspectReason(code) === 'clock';

/**
 * The first `length` entries of each column count; a column may be longer. `receivedS` is the second at which a reading
 * came in, where that was over a minute away from the time that it tells; 0 elsewhere.
 */
export interface DayReadings {
  readonly length: number;
  readonly atMs: Float64Array;
  readonly micro: Float64Array;
  readonly flag: Uint8Array;
  /** Seconds since 1970. */
  readonly receivedS: Float64Array | Uint32Array;
}

/** A day that grows: appending is cheap, inserting in the middle moves what is behind. */
export class DayBuffer implements DayReadings {
  length = 0;
  atMs: Float64Array<ArrayBuffer>;
  micro: Float64Array<ArrayBuffer>;
  flag: Uint8Array<ArrayBuffer>;
  receivedS: Uint32Array<ArrayBuffer>;

  /** @param room for so many readings before it has to grow */
  constructor(room = 16) {
    this.atMs = new Float64Array(room);
    this.micro = new Float64Array(room);
    this.flag = new Uint8Array(room);
    this.receivedS = new Uint32Array(room);
  }

  /** Index of the first reading at or after `atMs`. */
  indexFrom(atMs: number): number {
    return lowerBound(this.atMs, this.length, atMs);
  }

  microAt(atMs: number): number | undefined {
    if (atMs > (this.atMs[this.length - 1] ?? -1)) return undefined;
    const at = this.indexFrom(atMs);
    return this.atMs[at] === atMs ? this.micro[at] : undefined;
  }

  /** False where there is a reading at this time already; nothing is changed then. */
  insert(atMs: number, micro: number, flag: number, receivedS: number): boolean {
    const last = this.length - 1;
    const at = last < 0 || atMs > (this.atMs[last] ?? 0) ? this.length : this.indexFrom(atMs);
    if (at < this.length && this.atMs[at] === atMs) return false;
    if (this.length === this.atMs.length) this.#grow();
    if (at < this.length) this.#openGap(at);
    this.atMs[at] = atMs;
    this.micro[at] = micro;
    this.flag[at] = flag;
    this.receivedS[at] = receivedS;
    this.length += 1;
    return true;
  }

  #openGap(at: number): void {
    for (const column of [this.atMs, this.micro, this.flag, this.receivedS]) {
      column.copyWithin(at + 1, at, this.length);
    }
  }

  #grow(): void {
    // A large day grows by halves: what is not used yet is memory, too.
    const before = this.atMs.length;
    const size = before + (before < 4096 ? before : before >> 1);
    const wider = (from: Float64Array): Float64Array<ArrayBuffer> => {
      const to = new Float64Array(size);
      to.set(from);
      return to;
    };
    this.atMs = wider(this.atMs);
    this.micro = wider(this.micro);
    const receivedS = new Uint32Array(size);
    receivedS.set(this.receivedS);
    this.receivedS = receivedS;
    const flag = new Uint8Array(size);
    flag.set(this.flag);
    this.flag = flag;
  }
}

/** First index in the ascending `column[0..length)` whose value is at or above `wanted`. */
export function lowerBound(column: Float64Array, length: number, wanted: number): number {
  let low = 0;
  let high = length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((column[middle] ?? 0) < wanted) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Both days in one; no time is in both (the key is checked when a reading comes in). */
export function mergeDays(a: DayReadings, b: DayReadings): DayReadings {
  if (a.length === 0) return b;
  if (b.length === 0) return a;
  const merged = new DayBuffer(a.length + b.length);
  let i = 0;
  let j = 0;
  while (i < a.length || j < b.length) {
    const fromA = j >= b.length || (i < a.length && (a.atMs[i] ?? 0) <= (b.atMs[j] ?? 0));
    const source = fromA ? a : b;
    const k = fromA ? i++ : j++;
    merged.insert(source.atMs[k] ?? 0, source.micro[k] ?? 0, source.flag[k] ?? 0, source.receivedS[k] ?? 0);
  }
  return merged;
}
