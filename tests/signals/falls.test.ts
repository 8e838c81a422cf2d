import { describe, expect, it } from 'vitest';
import { binsOf } from '../../server/signals/bins.ts';
import { fallsOf } from '../../server/signals/chill/falls.ts';
import { dayMs, hourMs, made, midnight, ripple, visitAt } from './made.ts';

const now = midnight + 5 * dayMs;
const nest = (of: (hours: number) => number, everyMin = 5) => binsOf(made(midnight, now, of, everyMin));
const swinging = (h: number): number => 33 + Math.sin((h / 4) * 2 * Math.PI);
/** Warm by day, and sinking from eight in the evening to six in the morning. */
const givingWay = (h: number): number =>
  34.5 - 0.25 * Math.min(10, (h + 4) % 24) * ((h + 4) % 24 < 14 ? 1 : 0) + ripple(h, 0.02);

describe('what the falls of a nest come to', () => {
  it.each([
    ['turn', 'swings by a degree within hours', swinging],
    ['go-on', 'sinks with the cold of each night', givingWay],
    ['not-known', 'holds', (h: number) => 34.5 + ripple(h, 0.02)],
  ] as const)('%s where it %s', (falls, _, of) => {
    expect(fallsOf(nest(of), [], now)).toBe(falls);
  });

  it.each([
    [30, 'turn', 'go-on'],
    [60, 'not-known', 'not-known'],
  ] as const)('with a reading in %d minutes: %s and %s', (everyMin, ofSwinging, ofGivingWay) => {
    expect(fallsOf(nest(swinging, everyMin), [], now)).toBe(ofSwinging);
    expect(fallsOf(nest(givingWay, everyMin), [], now)).toBe(ofGivingWay);
  });

  it('is not known of a nest that fell once', () => {
    const once = nest((h) => (h < 116 ? 34.5 : 34.5 - 0.4 * (h - 116)));
    expect(fallsOf(once, [], now)).toBe('not-known');
  });

  it('takes no fall of a nest that was opened for its own', () => {
    const openedAt = [10, 22, 34, 46, 58, 70, 82, 94, 106];
    const opened = nest((h) => 34.5 - (openedAt.some((at) => h >= at && h < at + 1) ? 6 : 0));
    const visits = openedAt.map((h) => visitAt(midnight + h * hourMs));
    expect(fallsOf(opened, visits, now)).toBe('not-known');
    expect(fallsOf(opened, [], now)).toBe('turn');
  });
});
