/** Heat against closed forms: Newtonian cooling, the steady state of a heated box, and what bees can and can't hold. */
import { describe, expect, it } from 'vitest';
import {
  restingW,
  setPointC,
  stepWarmth,
  type Box,
  type HeatSupply,
  type Warmth,
} from '../../simulator/colony/thermal.ts';

const nobody: HeatSupply = { bees: 0, mostWPerBee: 0.0045, broodPull: 0, wanderC: 0, fed: true };
const box: Box = { wallWPerK: 0.8, mantleWPerK: 0.7, nestJPerK: 6000, boxJPerK: 9000, sunM2: 0.004 };
const run = (warmth: Warmth, b: Box, supply: HeatSupply, outC: number, minutes: number, sunWm2 = 0) => {
  let heat = 0;
  for (let i = 0; i < minutes; i++) heat = stepWarmth(warmth, b, supply, outC, sunWm2, 1);
  return heat;
};

describe('an empty box', () => {
  it("cools by Newton's law", () => {
    // Nest cut off, so that there is one lump: T = Tout + (T0 − Tout)·exp(−t·G/C).
    const alone: Box = { ...box, mantleWPerK: 0 };
    const warmth = { nestC: 20, boxC: 30 };
    for (const hours of [1, 2, 3, 4]) {
      run(warmth, alone, nobody, 10, 60);
      const closedForm = 10 + 20 * Math.exp((-hours * 3600 * 0.8) / 9000);
      // Explicit Euler with a step of 60 s and a time constant of 188 min: first-order error under 20·(60/11250)/2/e.
      expect(Math.abs(warmth.boxC - closedForm)).toBeLessThan(0.03);
    }
  });

  it('rests at the temperature outside, and the sun warms it by area × radiation / conductance', () => {
    const warmth = { nestC: 30, boxC: 30 };
    run(warmth, box, nobody, 12, 6 * 1440);
    expect(warmth.nestC).toBeCloseTo(12, 6);
    run(warmth, box, nobody, 12, 6 * 1440, 500);
    expect(warmth.boxC).toBeCloseTo(12 + (0.004 * 500) / 0.8, 6);
    expect(warmth.nestC).toBeCloseTo(warmth.boxC, 6);
  });
});

describe('a nuc with bees', () => {
  const bees = (n: number): HeatSupply => ({ ...nobody, bees: n, broodPull: 1 });

  it('holds the set point with brood, and the heat it makes is what the box loses', () => {
    const warmth = { nestC: 33, boxC: 22 };
    const heat = run(warmth, box, bees(4000), 12, 3 * 1440);
    expect(warmth.nestC).toBeCloseTo(setPointC(1), 2);
    expect(heat).toBeCloseTo(0.8 * (warmth.boxC - 12), 3);
  });

  it('that is too weak sinks to outside + power × (1/walls + 1/mantle)', () => {
    const warmth = { nestC: 33, boxC: 15 };
    const heat = run(warmth, box, bees(900), 2, 4 * 1440);
    expect(heat).toBeCloseTo(900 * 0.0045, 6);
    // The mantle has drawn together to 60-100 % of its open conductance.
    const mantle = heat / (warmth.nestC - warmth.boxC);
    expect(mantle).toBeGreaterThan(0.6 * 0.7 - 1e-5);
    expect(warmth.nestC).toBeCloseTo(2 + heat * (1 / 0.8 + 1 / mantle), 3);
    expect(warmth.nestC).toBeLessThan(32);
  });

  it('without brood is cooler and follows the outside more than with brood', () => {
    // Stabentheiner et al. 2021; Meikle, Weiss & Stilwell 2014: without brood lower and much more variable.
    const at = (broodPull: number, outC: number) => {
      const warmth = { nestC: 30, boxC: 20 };
      run(warmth, box, { ...nobody, bees: 3000, broodPull }, outC, 3 * 1440);
      return warmth.nestC;
    };
    expect(at(0, 10)).toBeLessThan(at(1, 10) - 3);
    const coupling = (broodPull: number) => (at(broodPull, 20) - at(broodPull, 10)) / 10;
    expect(coupling(1)).toBeLessThan(0.02);
    expect(coupling(0)).toBeGreaterThan(0.2);
  });

  it('does not overheat by much on a hot day', () => {
    const warmth = { nestC: 34.5, boxC: 30 };
    run(warmth, box, bees(4000), 34, 1440, 600);
    expect(warmth.nestC).toBeLessThan(37.5);
  });

  it('cannot heat without food', () => {
    const warmth = { nestC: 34.5, boxC: 20 };
    run(warmth, box, { ...bees(4000), fed: false }, 10, 1440);
    expect(warmth.nestC).toBeLessThan(20);
  });
});

it('a resting bee gives the published heat at the published temperatures', () => {
  // Thermochimica Acta 382:221 (2002): 4.7 and 12.3 mW/g at 20 and 35 °C; 0.1 g a bee.
  expect(restingW(1000, 20)).toBeCloseTo(0.5, 6);
  expect(restingW(1000, 35)).toBeCloseTo(1.2, 6);
});
