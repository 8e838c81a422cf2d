import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { secondWorld } from './second-generator.ts';

const source = readFileSync(join(import.meta.dirname, 'second-generator.ts'), 'utf8');

describe('the second generator', () => {
  it('imports nothing but the spread of its seeds, so that it can share no equation with the simulator or the server', () => {
    expect(source.replace("import { spread } from './spread.ts';", '')).not.toMatch(/\bimport\b|\brequire\b/);
  });
  it('declares no function of the simulator’s names', () => {
    const names = (text: string): string[] =>
      [...text.matchAll(/^(?:export )?(?:function|const) (\w+)\b.*(?:\(|=>)/gm)].map(
        ([, name]) => name as string,
      );
    const root = join(import.meta.dirname, '..', '..', 'simulator');
    const files = ['colony/adults', 'colony/homing', 'colony/ledger', 'colony/nuc-steps'];
    files.push('sensors/scale', 'flight', 'weather', 'random');
    const first = files.flatMap((file) => names(readFileSync(join(root, `${file}.ts`), 'utf8')));
    expect(first.length).toBeGreaterThan(20);
    expect(names(source).filter((name) => first.includes(name))).toEqual([]);
  });
  it('repeats by its seed, loses only who will go, and never takes one back', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), (seed) => {
        const world = secondWorld(seed, { days: 3 });
        expect(secondWorld(seed, { days: 3 }).weightG).toEqual(world.weightG);
        expect(world.weightG.every(Number.isFinite)).toBe(true);
        // Nobody has flown home at the instant of the move.
        expect(world.goneG[0]).toBe(0);
        world.goneShare.forEach((share, i) => {
          if (i > 0) expect(share).toBeGreaterThanOrEqual(world.goneShare[i - 1] as number);
          expect(world.goneG[i]).toBeCloseTo(share * world.allG, 6);
        });
        expect(world.goneShare.at(-1)).toBeLessThanOrEqual(1);
      }),
      { numRuns: 8, seed: 5 },
    );
  });
});
