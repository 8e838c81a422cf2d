/**
 * The instants of a day as bytes: in the coarsest whole unit that fits all of them, each as its distance from where
 * the sensor's usual interval would have put it. A sensor that keeps its rhythm needs only its exceptions.
 */
import { unzigzag, zigzag, type BitReader, type BitWriter } from './bits.ts';
import { readSteps, stepOf, writeCodes } from './number-column.ts';
import { countNonZero, readSparse, writeSparse } from './sparse-column.ts';

/** `atMs[0..length)` ascends, at least one; `dayStartMs` is the day's UTC midnight. */
export function writeTimes(out: BitWriter, atMs: Float64Array, length: number, dayStartMs: number): void {
  const step = stepOf(atMs, length);
  const gaps = new Float64Array(Math.max(0, length - 1));
  for (let i = 1; i < length; i += 1) gaps[i - 1] = ((atMs[i] ?? 0) - (atMs[i - 1] ?? 0)) / step;
  const usual = gaps.toSorted()[gaps.length >> 1] ?? 0;
  const codes = gaps.map((gap) => zigzag(gap - usual));
  const exceptions = countNonZero(codes);
  // An exception costs about two bytes; a code in a block of mostly zeros about a bit and a half.
  const sparse = exceptions * 16 < 16 + codes.length;
  out.writeVarint(step);
  out.writeVarint((atMs[0] ?? 0) - dayStartMs);
  out.writeVarint(usual);
  out.write(sparse ? 1 : 0, 1);
  if (sparse) writeSparse(out, codes, exceptions);
  else writeCodes(out, codes);
}

export function readTimes(from: BitReader, length: number, dayStartMs: number): Float64Array {
  const step = from.readVarint();
  const atMs = new Float64Array(length);
  atMs[0] = dayStartMs + from.readVarint();
  const usual = from.readVarint();
  const sparse = from.read(1) === 1;
  if (sparse) addExceptions(atMs, readSparse(from, length - 1), usual, step);
  else readSteps(from, atMs, length, usual, step);
  return atMs;
}

function addExceptions(atMs: Float64Array, codes: Float64Array, usual: number, step: number): void {
  let at = atMs[0] ?? 0;
  for (let i = 1; i < atMs.length; i += 1) {
    const code = codes[i - 1] ?? 0;
    at += (code === 0 ? usual : usual + unzigzag(code)) * step;
    atMs[i] = at;
  }
}
