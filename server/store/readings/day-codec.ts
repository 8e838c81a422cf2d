/**
 * A sealed day as bytes. Nothing is rounded: every instant to the millisecond, every value to the millionth.
 *
 *   version, count, what follows · times · values · suspect flags, where there are any · receipts, where there are any
 *
 * Times: in the coarsest whole unit that fits all of them; differences of differences. A sensor that keeps its
 * rhythm needs only its exceptions. Values: in steps of the sensor's own resolution (the common divisor), differences
 * from the one before. Both in Rice codes of a width that follows the data block by block.
 */
import { BitReader, BitWriter, unzigzag, zigzag } from './bits.ts';
import type { DayReadings } from './day-readings.ts';
import { readCodes, readNumbers, stepOf, writeCodes, writeNumbers } from './number-column.ts';

const version = 1;
const hasFlags = 1;
const hasReceipts = 2;
const steadyTimes = 4;

/** `readings` has at least one; `dayStartMs` is the day's UTC midnight. */
export function encodeDay(readings: DayReadings, dayStartMs: number): Uint8Array {
  const { length } = readings;
  const seconds = secondDifferences(readings, dayStartMs);
  const exceptions = countNonZero(seconds.codes);
  // An exception costs about two bytes; a code in a block of mostly zeros about a bit and a half.
  const steady = exceptions * 16 < 16 + seconds.codes.length;
  const flags = countNonZero(readings.flag.subarray(0, length)) > 0;
  const receipts = countNonZero(readings.receivedS.subarray(0, length)) > 0;

  const out = new BitWriter();
  out.write(version, 4);
  out.write((flags ? hasFlags : 0) + (receipts ? hasReceipts : 0) + (steady ? steadyTimes : 0), 4);
  out.writeVarint(length);
  out.writeVarint(seconds.step);
  out.writeVarint(seconds.firstMs);
  out.writeVarint(seconds.interval);
  if (steady) writeSparse(out, seconds.codes, exceptions);
  else writeCodes(out, seconds.codes);
  writeNumbers(out, readings.micro, length);
  if (flags)
    writeSparse(out, readings.flag.subarray(0, length), countNonZero(readings.flag.subarray(0, length)));
  // A batch that was sent late has one receipt for many readings: as differences that costs next to nothing.
  if (receipts) writeNumbers(out, readings.receivedS, length);
  return out.finish();
}

/** Throws `RangeError` on bytes that are no sealed day. */
export function decodeDay(bytes: Uint8Array, dayStartMs: number): DayReadings {
  const from = new BitReader(bytes);
  const found = from.read(4);
  if (found !== version) throw new RangeError(`a sealed day of unknown version ${String(found)}`);
  const parts = from.read(4);
  const length = from.readVarint();
  const atMs = readTimes(from, length, dayStartMs, (parts & steadyTimes) !== 0);
  const micro = readNumbers(from, length);
  const flag = (parts & hasFlags) === 0 ? new Uint8Array(length) : Uint8Array.from(readSparse(from, length));
  const receivedS = (parts & hasReceipts) === 0 ? new Float64Array(length) : readNumbers(from, length);
  return { length, atMs, micro, flag, receivedS };
}

interface TimeCodes {
  /** Time unit in ms; all differences are multiples of it. */
  readonly step: number;
  readonly firstMs: number;
  readonly interval: number;
  readonly codes: Float64Array;
}

/** Changes of the interval from one reading to the next, zigzagged, the first against the usual interval. */
function secondDifferences({ atMs, length }: DayReadings, dayStartMs: number): TimeCodes {
  const step = stepOf(atMs, length);
  const gap = (i: number): number => ((atMs[i] ?? 0) - (atMs[i - 1] ?? 0)) / step;
  const interval = length > 1 ? gap(1) : 0;
  const codes = new Float64Array(Math.max(0, length - 2));
  for (let i = 2; i < length; i += 1) codes[i - 2] = zigzag(gap(i) - gap(i - 1));
  return { step, firstMs: (atMs[0] ?? 0) - dayStartMs, interval, codes };
}

function readTimes(from: BitReader, length: number, dayStartMs: number, steady: boolean): Float64Array {
  const step = from.readVarint();
  let at = dayStartMs + from.readVarint();
  let gap = from.readVarint();
  const count = Math.max(0, length - 2);
  const codes = steady ? readSparse(from, count) : readCodes(from, count);
  const atMs = new Float64Array(length);
  atMs[0] = at;
  for (let i = 1; i < length; i += 1) {
    if (i > 1) gap += unzigzag(codes[i - 2] ?? 0);
    at += gap * step;
    atMs[i] = at;
  }
  return atMs;
}

const countNonZero = (column: Float64Array | Uint32Array | Uint8Array): number => {
  let count = 0;
  for (const value of column) if (value !== 0) count += 1;
  return count;
};

/** Only the entries that are not zero: how far on, and what. */
function writeSparse(out: BitWriter, column: Float64Array | Uint8Array, count: number): void {
  out.writeVarint(count);
  let before = 0;
  column.forEach((value, i) => {
    if (value === 0) return;
    out.writeVarint(i - before);
    out.writeVarint(value);
    before = i;
  });
}

function readSparse(from: BitReader, length: number): Float64Array {
  const column = new Float64Array(length);
  let at = 0;
  for (let left = from.readVarint(); left > 0; left -= 1) {
    at += from.readVarint();
    column[at] = from.readVarint();
  }
  return column;
}
