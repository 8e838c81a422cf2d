/** Weather and flight: what the sky must do, and when bees fly. */
import { getTimes } from 'suncalc';
import { describe, expect, it } from 'vitest';
import { flightActivity } from '../../simulator/flight.ts';
import { clearSkyWm2, partOf, seasonMeanC, simulateWeather, type Weather } from '../../simulator/weather.ts';

const place = { latDeg: 50, lonDeg: 10.5, timeZone: 'Europe/Berlin' };
const start = Date.UTC(2025, 4, 20);
const usual = {
  warmerC: 0,
  frontSdC: 2,
  heatingKPerWm2: 0.016,
  cloudiness: 0.4,
  showersPerDay: 3,
  windMs: 2,
};
const run = (seed: number, days: number) => simulateWeather(seed, place, start, days * 1440, usual);

describe('weather', () => {
  it('is the same for the same seed, and a longer run begins with the shorter', () => {
    const short = run(4, 5);
    const long = run(4, 9);
    expect(partOf(long, start, 5 * 1440).airC).toEqual(short.airC);
    expect(partOf(long, start, 5 * 1440).rainMm).toEqual(short.rainMm);
    expect(run(5, 5).airC).not.toEqual(short.airC);
  });

  it('has the sun up between sunrise and sunset', () => {
    const weather = run(4, 3);
    const { sunrise, sunset } = getTimes(new Date(start + 43_200_000), place.latDeg, place.lonDeg);
    const sunAt = (ms: number) => weather.sunDeg[Math.round((ms - start) / 60_000)]!;
    expect(Math.abs(sunAt(sunrise!.getTime()))).toBeLessThan(1);
    expect(Math.abs(sunAt(sunset!.getTime()))).toBeLessThan(1);
    // Darkness has no radiation, and radiation never exceeds the clear sky's.
    for (let i = 0; i < weather.minutes; i++) {
      expect(weather.radiationWm2[i]!).toBeLessThanOrEqual(clearSkyWm2(weather.sunDeg[i]!) + 1e-3);
    }
  });

  it('is coldest about dawn and warmest in the afternoon', () => {
    const weather = run(8, 40);
    const byHour = Array.from({ length: 24 }, () => 0);
    for (const [i, air] of weather.airC.entries()) byHour[Math.floor((i % 1440) / 60)]! += air / (60 * 40);
    const coldest = byHour.indexOf(Math.min(...byHour));
    const warmest = byHour.indexOf(Math.max(...byHour));
    // UTC at 10.5° E: sunrise about 03:20, solar noon about 11:15.
    expect(coldest).toBeGreaterThanOrEqual(2);
    expect(coldest).toBeLessThanOrEqual(6);
    expect(warmest).toBeGreaterThanOrEqual(12);
    expect(warmest).toBeLessThanOrEqual(17);
  });

  it("keeps near the season's mean over many seeds", () => {
    const means = Array.from({ length: 30 }, (_, seed) => {
      const { airC } = run(seed, 20);
      return airC.reduce((a, b) => a + b, 0) / airC.length;
    });
    const mean = means.reduce((a, b) => a + b, 0) / means.length;
    // Fronts of 2 K with a memory of 2.5 days leave 0.13 K of standard error over 30 × 20 days; cloud and rain cost up to 1 K.
    expect(Math.abs(mean - seasonMeanC(50, start + 10 * 86_400_000))).toBeLessThan(1.5);
  });

  it('a spell changes nothing before it begins', () => {
    const spell = {
      fromMs: start + 4 * 86_400_000,
      toMs: start + 6 * 86_400_000,
      warmerC: -8,
      rainShare: 0.6,
    };
    const plain = run(4, 7);
    const with_ = simulateWeather(4, place, start, 7 * 1440, usual, [spell]);
    expect(with_.airC.slice(0, 3 * 1440)).toEqual(plain.airC.slice(0, 3 * 1440));
    expect(with_.airC[5 * 1440]!).toBeLessThan(plain.airC[5 * 1440]! - 6);
  });

  it('refuses to be cut where it is not', () => {
    expect(() => partOf(run(4, 2), start + 86_400_000, 2880)).toThrow('does not cover the run');
  });
});

describe('flight', () => {
  const steady = (over: Partial<Record<keyof Weather, number>>): Weather => {
    const fill = (value: number) => new Float32Array(60).fill(value);
    return {
      startMs: 0,
      minutes: 60,
      airC: fill(over.airC ?? 22),
      radiationWm2: fill(over.radiationWm2 ?? 600),
      sunDeg: fill(50),
      cloud: fill(0),
      rainMm: fill(over.rainMm ?? 0),
      windMs: fill(over.windMs ?? 1),
    };
  };
  const at = (over: Parameters<typeof steady>[0]) =>
    flightActivity(steady(over), { flightThresholdC: 12, flightFullC: 20, flightSunKPerWm2: 0 })[59]!;

  it('is none below 12 °C and full at 20 °C (Burrill & Dietz 1981 in the COLOSS BEEBOOK)', () => {
    expect(at({ airC: 11.9 })).toBe(0);
    expect(at({ airC: 16 })).toBeCloseTo(0.5, 5);
    expect(at({ airC: 20 })).toBe(1);
  });

  it('is none in the dark, in rain and in a gale', () => {
    expect(at({ radiationWm2: 0 })).toBe(0);
    expect(at({ rainMm: 0.05 })).toBe(0);
    expect(at({ windMs: 12 })).toBe(0);
  });
});
