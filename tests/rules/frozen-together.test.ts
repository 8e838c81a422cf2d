/** A gateway that hangs can pass on its last readings again and again, each with a fresh time: common practice. */
import { describe, expect, it } from 'vitest';
import { everythingFrozen } from '../../server/rules/catalogue/sensors/everything-frozen.ts';
import type { ChannelHealth } from '../../server/rules/engine/inputs.ts';
import { limitsFor, noLimitSettings } from '../../server/rules/engine/limits.ts';
import { health, hour, minute, noon, siteInput, siteSubject } from './made-up.ts';

const still = (hours: number, over: Partial<ChannelHealth> = {}): ChannelHealth =>
  health({ unchangedSinceMs: noon - hours * hour, ...over });
const scale = { channelId: 8, sensor: 'scale-8', quantity: 'weight', place: 'scale' } as const;
const outside = { channelId: 9, sensor: 'air-9', place: 'outside' } as const;
const verdict = (...sensors: readonly ChannelHealth[]): string =>
  everythingFrozen.evaluate(siteInput(sensors), limitsFor(everythingFrozen, siteSubject, noLimitSettings))
    .verdict;

describe('scales and probes that all rest', () => {
  it('are told once none has moved by a digit for hours', () => {
    expect(verdict(still(9), still(7, scale), still(7, outside))).toBe('yes');
    expect(verdict(still(9), still(7, scale), still(5, outside))).toBe('no');
  });
  it('are not, while one of them moves: a steady nest may rest on its value, and a coarse scale', () => {
    expect(verdict(still(40), still(30, scale), still(0, outside))).toBe('no');
  });
  it('are those that are heard: one that fell silent days ago says nothing of the others', () => {
    const silent = still(0, { ...outside, lastHeardMs: noon - 2 * hour, expectedIntervalMs: 5 * minute });
    expect(verdict(still(9), still(7, scale), silent)).toBe('no-data');
    expect(verdict(still(9), still(7, scale), still(7, { channelId: 4 }), silent)).toBe('yes');
  });
  it('are not three scales with steps of 50 g: they may rest together for a night', () => {
    const coarse = [1, 2, 3].map((channelId) => still(9, { ...scale, channelId, stepG: 50 }));
    expect(verdict(...coarse)).toBe('no-data');
    expect(verdict(...coarse.map((one) => ({ ...one, stepG: 10 })))).toBe('yes');
    expect(verdict(still(9), still(9, { channelId: 5 }), still(9, outside), ...coarse)).toBe('yes');
  });
  it('are three at least: two sensors may rest by chance', () => {
    expect(verdict(still(9), still(9, scale))).toBe('no-data');
  });
});
