/** A column of mostly zeros: only the others are written, as how far on and what. */
import type { BitReader, BitWriter } from './bits.ts';

export function countNonZero(column: Float64Array | Uint32Array | Uint8Array): number {
  let count = 0;
  for (const value of column) if (value !== 0) count += 1;
  return count;
}

/** Whole numbers ≥ 0, of which `count` are not zero. */
export function writeSparse(out: BitWriter, column: Float64Array | Uint8Array, count: number): void {
  out.writeVarint(count);
  let before = 0;
  column.forEach((value, i) => {
    if (value === 0) return;
    out.writeVarint(i - before);
    out.writeVarint(value);
    before = i;
  });
}

export function readSparse(from: BitReader, length: number): Float64Array {
  const column = new Float64Array(length);
  let at = 0;
  for (let left = from.readVarint(); left > 0; left -= 1) {
    at += from.readVarint();
    if (at >= length) throw new RangeError('a sealed day names a reading that it does not have');
    column[at] = from.readVarint();
  }
  return column;
}
