/** The agents judge the gates, so nothing of theirs may come from the code that they judge. */
import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import * as brood from '../../server/biology/brood-figures.ts';
import * as cells from '../../server/biology/emergency-cell-figures.ts';
import * as looks from '../../server/biology/look-figures.ts';

const files = ['colony.ts', 'keeper.ts', 'scene.ts', 'dice.ts'] as const;
const textOf = (file: string): string => readFileSync(new URL(file, import.meta.url), 'utf8');

/** Every value in a figure or a table of figures; whole days and halves are the calendar's, not an estimate. */
function valuesOf(figure: unknown): readonly number[] {
  if (typeof figure === 'number') return (2 * figure) % 1 === 0 ? [] : [figure];
  if (typeof figure !== 'object' || figure === null) return [];
  const { low: _low, high: _high, ...rest } = figure as Record<string, unknown>;
  return Object.values(rest).flatMap(valuesOf);
}

it.each(files)('%s imports nothing of bee biology', (file) => {
  expect(textOf(file)).not.toMatch(/biology|standing-cells|cell-fates|cell-waves/);
});

it.each(files.slice(0, 2))('%s repeats no figure of the code that it judges', (file) => {
  // The classes of hidden cells are younger than the agents, whose range of another thing ends at the same share.
  const { startsAfterLoss: _loss, startsAgain: _again, queenSpeeds: _speeds, ...single } = cells;
  const { hiddenCells: _hidden, ...ofLooks } = looks;
  const theirs = new Set([brood, single, ofLooks].flatMap(valuesOf));
  expect(theirs.size).toBeGreaterThan(10);
  const typed = (textOf(file).match(/(?<![\w.])\d+\.\d+/g) ?? []).map(Number);
  expect(typed.length).toBeGreaterThan(3);
  expect(typed.filter((value) => theirs.has(value))).toEqual([]);
});
