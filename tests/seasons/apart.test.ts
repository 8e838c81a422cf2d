/** The agent colony is a judge of its own: it takes no figure from the server, and comes out as the sources say. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import * as figures from '../../server/biology/figures.ts';
import { dice } from '../oracle/dice.ts';
import { Colony } from './colony.ts';
import { nature } from './nature.ts';

const here = import.meta.dirname;
const files = readdirSync(here).filter((name) => name.endsWith('.ts') && !name.endsWith('.test.ts'));

/** Who puts the question and reads the answer, and who prints what came of it; the others know no tool. */
const mayUse: Readonly<Record<string, readonly string[]>> = {
  'obedient.ts': ['commands/advise-answer.ts', 'views/plan/plan-steps.ts'],
  'run.ts': ['signals/statistics/intervals.ts'],
};

describe('shares nothing with what it judges', () => {
  it.each(files)('%s', (name) => {
    const text = readFileSync(join(here, name), 'utf8');
    const imports = [...text.matchAll(/^import (type )?.*?from '([^']+)';$/gms)];
    const values = imports.filter(([, type]) => type === undefined).map(([, , from]) => from ?? '');
    const used = mayUse[name] ?? [];
    const others = values.filter(
      (from) => from.includes('/server/') && !used.some((end) => from.endsWith(end)),
    );
    expect(others).toEqual([]);
    expect(text).not.toMatch(/from '[^']*server\/biology/);
  });

  it('no spread of the colony’s is a spread of the server’s', () => {
    const text = ['nature.ts', 'colony.ts', 'scene.ts', 'hive.ts']
      .map((name) => readFileSync(join(here, name), 'utf8'))
      .join('\n');
    const ours = [...text.matchAll(/between\(([\d.]+), ([\d.]+)\)/g)].map(
      ([, low, high]) => `${low ?? ''}-${high ?? ''}`,
    );
    const theirs = Object.values(figures).flatMap((figure) =>
      typeof figure === 'object' && 'value' in figure && figure.unit === 'd' && figure.low !== undefined
        ? [`${String(figure.low)}-${String(figure.high)}`]
        : [],
    );
    expect(ours.length).toBeGreaterThan(15);
    expect(theirs.length).toBeGreaterThan(10);
    // Days that are no figure of the bees: when a look is made, how soon a fight ends.
    expect(ours.filter((spread) => theirs.includes(spread))).toEqual([]);
  });
});

/** Queenless from day 0 on, nobody cuts. */
const left = Array.from({ length: 400 }, (_, seed) => {
  const d = dice(seed + 1);
  const colony = new Colony(d, nature(d));
  colony.laidUntil(0);
  colony.lose(0);
  const { cells } = colony;
  const started = cells.map((cell) => cell.started);
  const tornDown = cells.filter((cell) => cell.tornDown < cell.emerges).length;
  colony.advance(40);
  return {
    colony,
    count: cells.length,
    started,
    tornDown,
    firstVirgin: Math.min(...colony.virgins.map((v) => v.from)),
  };
});
const median = (values: readonly number[]): number =>
  values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)] ?? NaN;

describe('a colony that loses its queen', () => {
  it('starts 11-49 cells, 20.4 on average, the first after 12-48 h, the last by day 8-9 (Fell and Morse 1984)', () => {
    const counts = left.map(({ count }) => count);
    const mean = counts.reduce((sum, count) => sum + count, 0) / counts.length;
    expect(mean).toBeGreaterThan(17);
    expect(mean).toBeLessThan(24);
    expect(median(left.map(({ started }) => Math.min(...started)))).toBeGreaterThan(0.5);
    expect(median(left.map(({ started }) => Math.min(...started)))).toBeLessThan(2);
    expect(Math.max(...left.flatMap(({ started }) => started))).toBeLessThanOrEqual(9);
  });

  it('tears down about half of its cells (53 %: Hatch, Tarpy and Fletcher 1999, seen quoted)', () => {
    const all = left.reduce((sum, { count }) => sum + count, 0);
    const torn = left.reduce((sum, { tornDown }) => sum + tornDown, 0);
    expect(torn / all).toBeGreaterThan(0.4);
    expect(torn / all).toBeLessThan(0.6);
  });

  it('has its first virgin 10-13 days after the loss, never before 8.5 (16 d less 3 d of egg and the larva’s age, Mussen et al. 1987)', () => {
    const first = left.map(({ firstVirgin }) => firstVirgin).filter(Number.isFinite);
    expect(Math.min(...first)).toBeGreaterThan(8.3);
    expect(median(first)).toBeGreaterThan(9);
    expect(median(first)).toBeLessThan(12.5);
  });

  it('has workers that lay in its fourth week or later, where no queen came of it (Miller and Ratnieks 2001)', () => {
    const hopeless = Array.from({ length: 200 }, (_, seed) => {
      const d = dice(seed + 1);
      const colony = new Colony(d, nature(d));
      colony.laidUntil(0);
      return [21, 28, 35].map((day) => colony.layingWorkers(day));
    });
    const share = (at: number): number => hopeless.filter((days) => days[at]).length / hopeless.length;
    expect(share(0)).toBe(0);
    expect(share(1)).toBeGreaterThan(0.3);
    expect(share(2)).toBe(1);
  });
});
