/** A scale that tells steps of 50 or 100 g (common of platform scales) rests within its step: that is no fault. */
import { describe, expect, it } from 'vitest';
import { sensorStuck } from '../../server/rules/catalogue/sensors/sensor-stuck.ts';
import { limitsFor, noLimitSettings } from '../../server/rules/engine/limits.ts';
import { laidOnReal } from '../levels/drift-truths.ts';
import { secondWorld } from '../levels/second-generator.ts';
import { present } from '../open-data/data.ts';
import type { Series } from '../../server/signals/types.ts';
import { channelInput, channelSubject, hour, noon } from './made-up.ts';

const limits = limitsFor(sensorStuck, channelSubject, noLimitSettings);
const verdict = (restsH: number, stepG?: number): string =>
  sensorStuck.evaluate(
    channelInput({
      quantity: 'weight',
      place: 'scale',
      lastHeardMs: noon,
      unchangedSinceMs: noon - restsH * hour,
      ...(stepG !== undefined && { stepG }),
    }),
    limits,
  ).verdict;

/** The longest rest of a scale that tells such steps, hours. */
function longestRestH({ atMs, value }: Series, stepG: number): number {
  let longest = 0;
  let since = 0;
  for (let i = 1; i < atMs.length; i++) {
    const told = (k: number): number => Math.round((value[k] as number) / stepG);
    if (told(i) !== told(since)) since = i;
    longest = Math.max(longest, ((atMs[i] as number) - (atMs[since] as number)) / hour);
  }
  return longest;
}

describe('a scale that rests', () => {
  it('is stuck after a day where it tells grams, or was never seen to change', () => {
    for (const stepG of [undefined, 1, 10, 20]) {
      expect(verdict(23, stepG)).toBe('no');
      expect(verdict(24, stepG)).toBe('yes');
    }
  });
  it('is stuck after the longer, the coarser its steps', () => {
    expect([verdict(59, 50), verdict(60, 50)]).toEqual(['no', 'yes']);
    expect([verdict(119, 100), verdict(120, 100)]).toEqual(['no', 'yes']);
  });
  it.each([10, 20, 50, 100])('is not in the second generator, at steps of %i g', (stepG) => {
    for (const weather of ['ordinary', 'cold-spring'] as const)
      for (let seed = 1; seed <= 15; seed++) {
        const { atMs, weightG } = secondWorld(seed, { days: 20, frames: [2, 5], share: [0.1, 0.3], weather });
        const restsH = longestRestH({ atMs, value: weightG }, stepG);
        expect(verdict(restsH, stepG), `${weather}, seed ${String(seed)}: ${restsH.toFixed(0)} h`).toBe('no');
      }
  });
  it.skipIf(!present).each([10, 50, 100])('is not on the days of real hives, at steps of %i g', (stepG) => {
    for (let seed = 1; seed <= 15; seed++) {
      const { weightG } = laidOnReal({ traffic: 0.25, siblings: false })(seed, 12).input.series;
      if (weightG) expect(verdict(longestRestH(weightG, stepG), stepG)).toBe('no');
    }
  });
});
