import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ranges, secondNest } from './second-nest.ts';

const source = readFileSync(join(import.meta.dirname, 'second-nest.ts'), 'utf8');
const root = join(import.meta.dirname, '..', '..');
const everyMin = 5;
const day = (tempC: number, days = 2): Float64Array => new Float64Array((days * 1440) / everyMin).fill(tempC);
const nest = (seed: number, tempC: number, bees: number) =>
  secondNest(seed, day(tempC), everyMin, { bees: [bees, bees] });

describe('the second nest', () => {
  it('imports nothing but the spread of its seeds, so that it can share no equation with the simulator or the server', () => {
    expect(source.replace("import { spread } from './spread.ts';", '')).not.toMatch(/\bimport\b|\brequire\b/);
  });
  it('declares no function of the simulator’s names', () => {
    const names = (text: string): string[] =>
      [...text.matchAll(/^(?:export )?(?:function|const) (\w+)\b.*(?:\(|=>)/gm)].map(
        ([, name]) => name as string,
      );
    const folder = readdirSync(join(root, 'simulator'), { recursive: true, encoding: 'utf8' });
    const files = folder.filter((file) => file.endsWith('.ts'));
    const first = files.flatMap((file) => names(readFileSync(join(root, 'simulator', file), 'utf8')));
    expect(first.length).toBeGreaterThan(20);
    expect(names(source).filter((name) => first.includes(name))).toEqual([]);
  });
  it('repeats by its seed, draws within its ranges, and stays finite in cold and mild weather', () => {
    for (const [low, high] of Object.values(ranges)) expect(low).toBeLessThan(high);
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), fc.integer({ min: -15, max: 25 }), (seed, tempC) => {
        const { coreC, readC } = secondNest(seed, day(tempC), everyMin, { bees: [700, 8000] });
        expect(secondNest(seed, day(tempC), everyMin, { bees: [700, 8000] }).readC).toEqual(readC);
        expect(coreC.every((v) => v > Math.min(tempC, 20) - 1 && v < 45)).toBe(true);
      }),
      { numRuns: 15, seed: 5 },
    );
  });
  /**
   * Southwick 1985: a gram makes less heat in a larger cluster, by its mass to the power of −0.479 (no brood, 2 °C). A
   * nest falls less steeply: all rest at 34 °C.
   */
  it('a larger cluster that holds makes less heat a gram in the cold, as published of clusters at 2 °C', () => {
    const powers = Array.from({ length: 24 }, (_, i) => {
      const [small, large] = [4000, 8000].map((bees) => nest(i + 1, 2, bees));
      if (!small || !large || (small.coreC.at(-1) as number) < 33.5) return [];
      return [
        Math.log((large.heatW.at(-1) as number) / 8000 / ((small.heatW.at(-1) as number) / 4000)) /
          Math.log(2),
      ];
    })
      .flat()
      .sort((x, y) => x - y);
    expect(powers.length).toBeGreaterThan(10);
    const middle = powers[powers.length >> 1] as number;
    expect(middle).toBeLessThan(-0.1);
    expect(middle).toBeGreaterThan(-0.479);
  });
  /** Jones et al. 2004 and others: a brood nest is held at 33 to 36 °C. */
  it('most nests of usual strength hold the band on a mild night', () => {
    const held = Array.from(
      { length: 30 },
      (_, seed) => nest(seed + 1, 12, 5500).coreC.at(-1) as number,
    ).filter((v) => v >= 33 && v <= 36.5);
    expect(held.length).toBeGreaterThanOrEqual(24);
  });
});
