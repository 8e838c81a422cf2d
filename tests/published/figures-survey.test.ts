/**
 * Single figures against where they were seen. Fukuda & Sakagami 1968 (seen quoted): 94.2 % of eggs become larvae;
 * Fell & Morse 1984: most cells by day 3-4; Meikle et al. 2018: 0.02 g brought home a bee; Ribbands 1952: first foraging
 * at 9-35 days. Sugar a bee and day, from memory: about 11 mg. Candy and stand: common practice.
 */
import { expect, it } from 'vitest';
import { eggToLarvaSurvival } from '../../server/biology/brood-figures.ts';
import { mostCellsByDays } from '../../server/biology/emergency-cell-figures.ts';
import { firstForagingDays } from '../../server/biology/population-figures.ts';
import { candyEatenHours, standMetres } from '../../server/biology/practice-figures.ts';
import { foragerLoadG, sugarMgPerBeeDay } from '../../server/biology/weight-figures.ts';

it.each([
  ['eggs that become larvae', eggToLarvaSurvival, [0.942]],
  ['days by which most cells stand', mostCellsByDays, [3, 4]],
  ['load of a forager, g', foragerLoadG, [0.02]],
  ['age at first foraging, d', firstForagingDays, [9, 35]],
  ['sugar a bee and day, mg', sugarMgPerBeeDay, [11]],
  ['hours through the candy', candyEatenHours, [12, 72]],
  ['metres from the parent', standMetres, [10]],
])('%s', (_what, figure, seen) => {
  expect(seen.length === 1 ? [figure.value] : [figure.low, figure.high]).toEqual(seen);
  expect(figure.source.length).toBeGreaterThan(0);
});
