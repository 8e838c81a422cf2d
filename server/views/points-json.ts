/**
 * The JSON of a chart's points, written digit by digit: a season of three lines is ten thousand numbers, and as objects
 * they outlive the young part of a small heap, so that every twentieth chart waited for the whole heap to be looked through.
 */
import type { WidthAnswer } from '../store/readings/chart-width.ts';
import { rounded } from './rounded.ts';

const zero = 0x30;
const comma = 0x2c;
const opening = 0x5b;
const closing = 0x5d;
/** More than a point can take: an instant and three numbers of any size. */
const longestPoint = 128;
/** Up to so many places a whole number is exact, and written here; others are rare, and left to the engine. */
const mostPlaces = 15;
const powers = Array.from({ length: mostPlaces + 1 }, (_, places) => Number(`1e${String(places)}`));
const powerOf = (places: number): number => powers[places] ?? Infinity;

export class PointsJson {
  #bytes = Buffer.allocUnsafe(16_384);
  #length = 0;

  /** Text that is JSON already. */
  text(json: string): void {
    const length = Buffer.byteLength(json);
    this.#reserve(length);
    this.#length += this.#bytes.write(json, this.#length);
  }

  /** A comma where something came before, then `[at,null]`. */
  gap(atMs: number): void {
    this.#begin(atMs);
    this.text(',null]');
  }

  /** `[at,value]`, or `[at,mean,low,high]` of buckets; a mean that is NaN is a gap. Rounded to `digits` decimals. */
  points({ kind, atMs, mean, min, max }: WidthAnswer, digits: number): void {
    for (let i = 0; i < atMs.length; i += 1) {
      const at = atMs[i] as number;
      const middle = mean[i] as number;
      if (Number.isNaN(middle)) {
        this.gap(at);
        continue;
      }
      this.#begin(kind === 'points' ? at : Math.round(at));
      this.#value(middle, digits);
      if (kind === 'buckets') {
        this.#value(min[i] ?? middle, digits);
        this.#value(max[i] ?? middle, digits);
      }
      this.#byte(closing);
    }
  }

  finish(): Buffer {
    return this.#bytes.subarray(0, this.#length);
  }

  #begin(atMs: number): void {
    this.#reserve(longestPoint);
    if (this.#bytes[this.#length - 1] === closing) this.#byte(comma);
    this.#byte(opening);
    if (Number.isInteger(atMs)) this.#number(atMs, 0);
    else this.text(JSON.stringify(atMs));
  }

  #value(value: number, digits: number): void {
    this.#byte(comma);
    this.#number(value, digits);
  }

  /** As `JSON.stringify` writes what `rounded` makes of it. */
  #number(value: number, digits: number): void {
    const scaled = digits === 0 ? value : Math.round(value * powerOf(digits));
    if (!Number.isInteger(scaled) || Math.abs(scaled) >= powerOf(mostPlaces)) {
      this.text(JSON.stringify(rounded(value, digits)));
      return;
    }
    if (scaled < 0) this.#byte(0x2d);
    let whole = Math.abs(scaled);
    let decimals = digits;
    while (decimals > 0 && whole % 10 === 0) {
      whole /= 10;
      decimals -= 1;
    }
    let places = decimals + 1;
    while (powerOf(places) <= whole) places += 1;
    let at = this.#length + places + (decimals > 0 ? 1 : 0);
    this.#length = at;
    for (let place = 0; place < places; place += 1) {
      if (place === decimals && decimals > 0) this.#bytes[--at] = 0x2e;
      const rest = Math.floor(whole / 10);
      this.#bytes[--at] = zero + (whole - rest * 10);
      whole = rest;
    }
  }

  #byte(byte: number): void {
    this.#bytes[this.#length++] = byte;
  }

  #reserve(more: number): void {
    if (this.#length + more <= this.#bytes.length) return;
    const wider = Buffer.allocUnsafe(2 * this.#length + more);
    this.#bytes.copy(wider, 0, 0, this.#length);
    this.#bytes = wider;
  }
}
