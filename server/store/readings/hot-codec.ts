/**
 * The readings of one group commit, of one UTC day, as the bytes of one row: a commit then touches one page of the
 * hot table and not one for every twenty readings. Nothing is rounded.
 */
import { BitReader, unzigzag, zigzag } from './bits.ts';
import { ByteWriter } from './byte-writer.ts';

export interface HotReading {
  readonly channelId: number;
  readonly atMs: number;
  readonly micro: number;
  readonly flag: number;
  /** 0 where it came in within a minute of the time that it tells. */
  readonly receivedS: number;
}

const version = 1;
const byte = 8;
/** First byte of a reading: how many decimal zeros were left off its millionths, and what else follows. */
const mostZeros = 7;
const powersOfTen = Float64Array.from({ length: mostZeros + 1 }, (_, exponent) => 10 ** exponent);
const hasFlag = 8;
const hasReceipt = 16;

/** All of one day, in the order in which they came. */
export function encodeHot(readings: readonly HotReading[], dayStartMs: number): Uint8Array {
  const out = new ByteWriter();
  out.writeByte(version);
  out.writeVarint(readings.length);
  let before = dayStartMs;
  for (const { channelId, atMs, micro, flag, receivedS } of readings) {
    const zeros = zerosOf(micro);
    out.writeByte(zeros + (flag === 0 ? 0 : hasFlag) + (receivedS === 0 ? 0 : hasReceipt));
    out.writeVarint(channelId);
    out.writeVarint(zigzag(atMs - before));
    out.writeVarint(zigzag(micro / (powersOfTen[zeros] ?? 1)));
    if (flag !== 0) out.writeVarint(flag);
    if (receivedS !== 0) out.writeVarint(receivedS);
    before = atMs;
  }
  return out.finish();
}

/** Throws `RangeError` on bytes that are no such row. */
export function decodeHot(bytes: Uint8Array, dayStartMs: number): HotReading[] {
  const from = new BitReader(bytes);
  const found = from.read(byte);
  if (found !== version) throw new RangeError(`hot readings of unknown version ${String(found)}`);
  const readings: HotReading[] = [];
  let atMs = dayStartMs;
  for (let left = from.readVarint(); left > 0; left -= 1) {
    const head = from.read(byte);
    const channelId = from.readVarint();
    atMs += unzigzag(from.readVarint());
    const micro = unzigzag(from.readVarint()) * (powersOfTen[head & mostZeros] ?? 1);
    const flag = (head & hasFlag) === 0 ? 0 : from.readVarint();
    const receivedS = (head & hasReceipt) === 0 ? 0 : from.readVarint();
    readings.push({ channelId, atMs, micro, flag, receivedS });
  }
  return readings;
}

function zerosOf(micro: number): number {
  if (micro === 0) return 0;
  let zeros = 0;
  for (let rest = micro; zeros < mostZeros && rest % 10 === 0; rest /= 10) zeros += 1;
  return zeros;
}
