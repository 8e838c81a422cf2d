/** The load cell's own troubles, each alone against what was put in. */
import { describe, expect, it } from 'vitest';
import { simulateNuc, type NucParameters } from '../../simulator/index.ts';

const still: Partial<NucParameters> = {
  scaleNoiseG: 0,
  scaleDriftGPerK: 0,
  creepShare: 0,
  zeroWanderG: 0,
  roofHoldsG: 0,
  windNoiseG: 0,
  spikeChance: 0,
  gapShare: 0,
  duplicateShare: 0,
  lateBatchesPerDay: 0,
  wrongClocksPerDay: 0,
};
const run = (parameters: Partial<NucParameters>) =>
  simulateNuc({ seed: 12, days: 6, everyMinutes: 1, parameters: { ...still, ...parameters } });
/** Reading less true mass, g, from the first hour on (after the move). */
const errors = ({ readings, truth }: ReturnType<typeof run>) =>
  [...readings.scale.value].map((kg, i) => kg * 1000 - truth.boxMassG[i]!).slice(60);
const sd = (values: readonly number[]) => {
  const mean = values.reduce((a, b) => a + b, 0) / values.length;
  return Math.sqrt(values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / values.length);
};

describe('the scale', () => {
  it('reads the true mass to its gram where nothing troubles it', () => {
    expect(Math.max(...errors(run({})).map(Math.abs))).toBeLessThanOrEqual(0.5 + 1e-6);
  });

  it('has the noise that it was told', () => {
    // 8,580 readings: five standard errors of a standard deviation are 4 %.
    expect(Math.abs(sd(errors(run({ scaleNoiseG: 12 }))) / 12 - 1)).toBeLessThan(0.04);
  });

  it('drifts with the temperature of the air by so many grams a kelvin, with its lag', () => {
    const nuc = run({ scaleDriftGPerK: 6, scaleLagMin: 30 });
    const drift = errors(nuc);
    const air = [...nuc.weather.airC];
    const span = Math.max(...drift) - Math.min(...drift);
    const airSpan = Math.max(...air.slice(60)) - Math.min(...air.slice(60));
    // The lag rounds the extremes off, the sun's part (up to 2.5 K) adds.
    expect(span / airSpan).toBeGreaterThan(4.5);
    expect(span / airSpan).toBeLessThan(7.5);
  });

  it('carries rain up to what the roof holds, and dries', () => {
    const parameters = { roofHoldsG: 80, roofM2: 0.2, showersPerDay: 6, cloudiness: 0.65 };
    const nuc = run(parameters);
    const water = nuc.truth.roofWaterG;
    expect(Math.max(...water)).toBeGreaterThan(40);
    expect(Math.max(...water)).toBeLessThanOrEqual(80.001);
    const worst = errors(nuc).map((error, i) => Math.abs(error - water[i + 60]!));
    expect(Math.max(...worst)).toBeLessThanOrEqual(0.5 + 1e-3);
  });

  it('spikes by 66 to 212 g, as the faults of real minute series do', () => {
    const spikes = errors(run({ spikeChance: 0.01 })).filter((error) => Math.abs(error) > 5);
    expect(spikes.length).toBeGreaterThan(40);
    expect(Math.min(...spikes.map(Math.abs))).toBeGreaterThan(64);
    expect(Math.max(...spikes.map(Math.abs))).toBeLessThan(214);
  });
});
