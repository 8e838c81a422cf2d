/** A column of whole numbers as differences from the one before, in Rice codes whose width follows the data. */
import { type BitReader, type BitWriter, riceBits, unzigzag, zigzag } from './bits.ts';

/** Differences that share one code width: short enough to follow day and night, long enough to be cheap. */
const blockLength = 32;
const widthBits = 6;
const largestWidth = 40;

function greatestCommonDivisor(a: number, b: number): number {
  let x = Math.abs(a);
  let y = Math.abs(b);
  while (y !== 0) [x, y] = [y, x % y];
  return x;
}

/** Largest step of which all values are a multiple away from the first; 1 where there is only one value. */
export function stepOf(values: ArrayLike<number>, length: number): number {
  const first = values[0] ?? 0;
  let step = 0;
  for (let i = 1; i < length && step !== 1; i += 1) {
    step = greatestCommonDivisor(step, (values[i] ?? 0) - first);
  }
  return step === 0 ? 1 : step;
}

function bestWidth(codes: Float64Array, from: number, to: number): number {
  let sum = 0;
  for (let i = from; i < to; i += 1) sum += codes[i] ?? 0;
  const guess = Math.max(0, Math.floor(Math.log2(sum / (to - from) + 1)));
  let best = 0;
  let fewest = Infinity;
  for (let k = Math.max(0, guess - 2); k <= Math.min(largestWidth, guess + 1); k += 1) {
    const bits = riceBits(codes, from, to, k);
    if (bits < fewest) [best, fewest] = [k, bits];
  }
  return best;
}

/** Codes are whole numbers ≥ 0 in blocks, each block with its own width. */
export function writeCodes(out: BitWriter, codes: Float64Array): void {
  for (let from = 0; from < codes.length; from += blockLength) {
    const to = Math.min(from + blockLength, codes.length);
    const k = bestWidth(codes, from, to);
    out.write(k, widthBits);
    for (let i = from; i < to; i += 1) out.writeRice(codes[i] ?? 0, k);
  }
}

/** `into[0]` is there; each further one is `(usual + code) × step` above the one before. */
export function readSteps(
  from: BitReader,
  into: Float64Array,
  length: number,
  usual: number,
  step: number,
): void {
  for (let at = 1; at < length; at += blockLength) {
    const k = from.read(widthBits);
    from.readSteps(into, at, Math.min(at + blockLength, length), k, usual, step);
  }
}

/** `length` whole numbers, at least one. */
export function writeNumbers(out: BitWriter, values: ArrayLike<number>, length: number): void {
  const step = stepOf(values, length);
  out.writeVarint(step);
  out.writeVarint(zigzag(values[0] ?? 0));
  const codes = new Float64Array(length - 1);
  for (let i = 1; i < length; i += 1) {
    codes[i - 1] = zigzag(((values[i] ?? 0) - (values[i - 1] ?? 0)) / step);
  }
  writeCodes(out, codes);
}

/** `values` has room for them. */
export function readNumbers(
  from: BitReader,
  length: number,
  values = new Float64Array(length),
): Float64Array {
  const step = from.readVarint();
  values[0] = unzigzag(from.readVarint());
  readSteps(from, values, length, 0, step);
  return values;
}
