/** A probe that tells half degrees, as a DS18B20 does at nine bits (its data sheet, table of resolutions). */
import { describe, expect, it } from 'vitest';
import { binsOf } from '../../server/signals/bins.ts';
import { fallsOf } from '../../server/signals/chill/falls.ts';
import { dayMs, hourMs, made, midnight, ripple } from './made.ts';

const nowMs = midnight + 3 * dayMs;
/** A steady nest, told to so many degrees; from the hour on it gives way to the cold. */
const nest = (digitK: number, fallsFromH: number) =>
  binsOf(
    made(
      midnight,
      nowMs,
      (h) => {
        const tempC = 34.74 + ripple(h, 0.12) - 0.9 * Math.max(0, h - fallsFromH);
        return Math.round(tempC / digitK) * digitK;
      },
      10,
    ),
  );

describe('a nest that is held steady', () => {
  it('does not swing because its probe goes back and forth between two digits', () => {
    expect(fallsOf(nest(0.5, Infinity), [], nowMs)).toBe('not-known');
    expect(fallsOf(nest(1, Infinity), [], nowMs)).toBe('not-known');
  });
  it('is seen to give way, told in half degrees', () => {
    expect(fallsOf(nest(0.5, 66), [], nowMs)).not.toBe('turn');
    expect(nowMs - midnight).toBeGreaterThan(66 * hourMs);
  });
});
