/** Seeds beside each other are fresh draws: nothing goes up by the same step from one to the next. */
import { describe, expect, it } from 'vitest';
import { secondWorld } from './second-generator.ts';
import { secondNest } from './second-nest.ts';
import { spread } from './spread.ts';

const seeds = Array.from({ length: 300 }, (_, i) => 97_000 + i);
const bins = 10;
/** From memory: chi-square with nine degrees of freedom, exceeded once in ten thousand. */
const mostOff = 33.7;

/** How far the steps between neighbours, as shares of the whole range, are from lying anywhere alike (Pearson 1900). */
function unevenness(draws: readonly number[], [low, high]: readonly [number, number]): number {
  const counts = new Array<number>(bins).fill(0);
  draws.slice(1).forEach((draw, i) => {
    const step = (draw - (draws[i] as number)) / (high - low);
    const bin = Math.min(bins - 1, Math.floor((step - Math.floor(step)) * bins));
    counts[bin] = (counts[bin] as number) + 1;
  });
  const expected = (draws.length - 1) / bins;
  return counts.reduce((sum, n) => sum + (n - expected) ** 2 / expected, 0);
}

describe('neighbouring seeds', () => {
  it.each([0, 1, 2])('are spread over all that a seed can be (stream %i)', (stream) => {
    const draws = seeds.map((seed) => spread(seed, stream));
    expect(unevenness(draws, [0, 2 ** 32])).toBeLessThan(mostOff);
  });

  it('make second worlds at any latitude, of any size', () => {
    const worlds = seeds.map((seed) => secondWorld(seed, { days: 0.01 }));
    expect(
      unevenness(
        worlds.map(({ latDeg }) => latDeg),
        [41, 55],
      ),
    ).toBeLessThan(mostOff);
    const frames = seeds.slice(0, 60).map((seed) => secondWorld(seed, { days: 5.1 }).framesOfBees);
    expect(new Set(frames).size).toBe(5);
  });

  it('make second nests of any size', () => {
    const outsideC = new Float64Array(2).fill(15);
    const bees = seeds.map((seed) => secondNest(seed, outsideC, 5, { bees: [4000, 8000] }).bees);
    expect(unevenness(bees, [4000, 8000])).toBeLessThan(mostOff);
  });
});
