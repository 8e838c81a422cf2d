/** The demo farm: a log that the server takes, sensors that fit it, history of bounded size, a feed without a break. */
import { describe, expect, it } from 'vitest';
import { logEntrySchema } from '../../server/introduction/log/facts.ts';
import { broodChilling } from '../../server/rules/catalogue/temperature/brood-chilling.ts';
import { buildDemo } from '../../simulator/demo/demo.ts';

const dayMs = 86_400_000;
const autumnInTheNorth = Date.UTC(2026, 10, 25, 9, 58);
const farm = buildDemo(autumnInTheNorth, 1);
const history = [...farm.readings()];

describe('the demo farm', () => {
  it('stands where the season is', () => {
    expect(farm.sites.every(({ latDeg }) => latDeg < 0)).toBe(true);
    expect(buildDemo(Date.UTC(2026, 5, 10), 1).sites.every(({ latDeg }) => latDeg > 0)).toBe(true);
  });

  it('has at least eight nucs at different days', () => {
    expect(new Set(farm.nucs.map(({ day }) => day)).size).toBeGreaterThanOrEqual(8);
  });

  it('has a log of valid entries, none in the future, with its own ids', () => {
    expect(farm.facts.length).toBeGreaterThan(30);
    for (const fact of farm.facts) {
      expect(logEntrySchema.safeParse(fact)).toMatchObject({ success: true });
      expect(fact.happenedAtMs).toBeLessThanOrEqual(farm.nowMs);
      expect(farm.introductions.some(({ id }) => id === fact.introductionId)).toBe(true);
    }
    expect(new Set(farm.facts.map(({ id }) => id)).size).toBe(farm.facts.length);
  });

  it('stays under 300,000 readings, in order, none from the future, every one from an assigned or a spare channel', () => {
    expect(history.length).toBeLessThan(300_000);
    expect(history.length).toBeGreaterThan(60_000);
    let last = 0;
    for (const { atMs, stampedAtMs } of history) {
      expect(atMs >= last && stampedAtMs < farm.nowMs).toBe(true);
      last = atMs;
    }
    for (const { sensor, quantity, probe } of farm.assignments) {
      expect(
        history.some((m) => m.sensor === sensor && m.quantity === quantity && (m.probe ?? '') === probe),
      ).toBe(true);
    }
  });

  // The weak nuc must be cold whatever the hour at which somebody tries the demo.
  it.each([2, 10, 18, 22])('chills the weak nuc and no other at %d h', (hour) => {
    const at = buildDemo(Date.UTC(2026, 5, 10, hour), 1);
    const latest = new Map<string, number>();
    let doseKh = 0;
    for (const { sensor, probe, value } of at.readings()) {
      if (probe !== 'brood') continue;
      latest.set(sensor, value);
      // A reading in five minutes.
      if (sensor === 'hive-14') doseKh = value < 32 ? doseKh + (32 - value) / 12 : 0;
    }
    expect(doseKh).toBeGreaterThan(broodChilling.limits.nowDoseKh!.standard);
    for (const [sensor, value] of latest) {
      if (sensor === 'hive-14') expect(value).toBeLessThan(32);
      else if (sensor === 'hive-15') expect(value).toBe(-127);
      else expect(value).toBeGreaterThan(33);
    }
  });

  it('goes on live from where the history ends, a reading a minute, past the first look ahead', () => {
    const lastWeightMs = new Map<string, number>();
    for (const m of history) if (m.quantity === 'weight') lastWeightMs.set(m.sensor, m.stampedAtMs);
    let longestGapMs = 0;
    let count = 0;
    for (const { sensor, quantity, stampedAtMs, atMs } of farm.liveFrom(farm.nowMs)) {
      expect(atMs).toBeGreaterThanOrEqual(farm.nowMs);
      if (atMs > farm.nowMs + 3 * dayMs) break;
      if (quantity !== 'weight') continue;
      longestGapMs = Math.max(longestGapMs, stampedAtMs - lastWeightMs.get(sensor)!);
      expect(stampedAtMs).toBeGreaterThan(lastWeightMs.get(sensor)!);
      lastWeightMs.set(sensor, stampedAtMs);
      count++;
    }
    expect(count).toBeGreaterThan(9 * 3 * 1440 * 0.95);
    // A gap of the sensor's own lasts 45 minutes on average, seldom over five hours.
    expect(longestGapMs).toBeLessThan(6 * 3_600_000);
  });

  it('is the same farm for the same moment and seed', () => {
    expect(buildDemo(autumnInTheNorth, 1).facts).toEqual(farm.facts);
  });
});
