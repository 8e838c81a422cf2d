import { expect, it } from 'vitest';
import { analyseNuc, newAnalysisCache } from '../../server/signals/analyse.ts';
import { hourMs } from './made.ts';
import { dayMs, simulatedCase } from './simulated.ts';

/** Numbers that an object holds on to, by its own values and those below them; what only a getter tells is not held. */
function numbersHeld(root: unknown): number {
  const seen = new Set<unknown>();
  const waiting: unknown[] = [root];
  let held = 0;
  for (let one = waiting.pop(); one !== undefined; one = waiting.pop()) {
    if (typeof one === 'number') held += 1;
    if (typeof one !== 'object' || one === null || seen.has(one)) continue;
    seen.add(one);
    if (ArrayBuffer.isView(one)) held += (one as Float64Array).length;
    else if (one instanceof Map) for (const pair of one) waiting.push(...(pair as unknown[]));
    else
      for (const { value } of Object.values(Object.getOwnPropertyDescriptors(one)))
        if (value !== undefined) waiting.push(value);
  }
  return held;
}

it('keeps some numbers of a nuc between two looks, not what its fits were made of', () => {
  const { nuc, input } = simulatedCase({ seed: 7, days: 10 });
  const cache = newAnalysisCache();
  for (const day of [1, 8]) analyseNuc(input, nuc.splitMs + day * dayMs + 9 * hourMs, cache);
  // Readings, and days as they are kept, are told apart by their class.
  expect(numbersHeld(cache.kept)).toBeLessThan(2000);
});
