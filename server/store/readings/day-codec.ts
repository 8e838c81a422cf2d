/**
 * A sealed day as bytes. Nothing is rounded: every instant to the millisecond, every value to the millionth.
 *
 *   version, which parts, count · times · values · suspect flags, where there are any · receipts, where there are any
 *
 * Values: in steps of the sensor's own resolution (the common divisor), each as its difference from the one before,
 * in Rice codes of a width that follows the data block by block. Times: `time-column.ts`; a device that tells several
 * quantities at once has the same times in several channels, which are then stored once, beside the days.
 */
import { BitReader, BitWriter } from './bits.ts';
import type { DayReadings } from './day-readings.ts';
import { readNumbers, writeNumbers } from './number-column.ts';
import { countNonZero, readSparse, writeSparse } from './sparse-column.ts';
import { readTimes, writeTimes } from './time-column.ts';

const version = 1;
const versionBits = 4;
const partBits = 4;
const hasFlags = 1;
const hasReceipts = 2;
const timesElsewhere = 4;
/** A reading a millisecond: more is no day. */
const mostReadings = 86_400_000;

export interface EncodeOptions {
  /** Without its times, which the decoder must be given. */
  readonly withoutTimes?: boolean;
}

/** `readings` has at least one; `dayStartMs` is the day's UTC midnight. */
export function encodeDay(
  readings: DayReadings,
  dayStartMs: number,
  { withoutTimes = false }: EncodeOptions = {},
): Uint8Array {
  const { length, atMs, micro } = readings;
  const flag = readings.flag.subarray(0, length);
  const flags = countNonZero(flag);
  const receipts = countNonZero(readings.receivedS.subarray(0, length)) > 0;
  const out = new BitWriter();
  out.write(version, versionBits);
  out.write(
    (flags > 0 ? hasFlags : 0) + (receipts ? hasReceipts : 0) + (withoutTimes ? timesElsewhere : 0),
    partBits,
  );
  out.writeVarint(length);
  if (!withoutTimes) writeTimes(out, atMs, length, dayStartMs);
  writeNumbers(out, micro, length);
  if (flags > 0) writeSparse(out, flag, flags);
  // A batch that was sent late has one receipt for many readings: as differences that costs next to nothing.
  if (receipts) writeNumbers(out, readings.receivedS, length);
  return out.finish();
}

/** `times` are the day's times where they were stored elsewhere. Throws `RangeError` on bytes that are no sealed day. */
export function decodeDay(bytes: Uint8Array, dayStartMs: number, times?: Float64Array): DayReadings {
  const from = new BitReader(bytes);
  const found = from.read(versionBits);
  if (found !== version) throw new RangeError(`a sealed day of unknown version ${String(found)}`);
  const parts = from.read(partBits);
  const length = from.readVarint();
  if (length < 1 || length > mostReadings) throw new RangeError('a sealed day of an impossible length');
  const elsewhere = (parts & timesElsewhere) !== 0;
  if (elsewhere && times?.length !== length) throw new RangeError('a sealed day whose times are missing');
  const atMs = elsewhere && times ? times : readTimes(from, length, dayStartMs);
  const micro = readNumbers(from, length);
  const flag = (parts & hasFlags) === 0 ? noFlags(length) : Uint8Array.from(readSparse(from, length));
  const receivedS = (parts & hasReceipts) === 0 ? noReceipts(length) : readNumbers(from, length);
  return { length, atMs, micro, flag, receivedS };
}

/** Columns of zeros are shared by all days that have nothing else: they are only ever read. */
let zeros = { flags: new Uint8Array(1024), receipts: new Uint32Array(1024) };

function zerosFor(length: number): typeof zeros {
  if (zeros.flags.length < length)
    zeros = { flags: new Uint8Array(length), receipts: new Uint32Array(length) };
  return zeros;
}

const noFlags = (length: number): Uint8Array => zerosFor(length).flags;
const noReceipts = (length: number): Uint32Array => zerosFor(length).receipts;

/** The times of a day by themselves, for several channels. */
export function encodeTimes({ atMs, length }: DayReadings, dayStartMs: number): Uint8Array {
  const out = new BitWriter();
  out.writeVarint(length);
  writeTimes(out, atMs, length, dayStartMs);
  return out.finish();
}

export function decodeTimes(bytes: Uint8Array, dayStartMs: number): Float64Array {
  const from = new BitReader(bytes);
  const length = from.readVarint();
  if (length < 1 || length > mostReadings) throw new RangeError('shared times of an impossible length');
  return readTimes(from, length, dayStartMs);
}
