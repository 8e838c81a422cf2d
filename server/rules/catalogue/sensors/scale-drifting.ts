/** The scale follows the temperature more than the bees. */
import { atLeast } from '../../engine/conditions.ts';
import { grams, kelvin, say } from '../../../words/phrase.ts';
import { decide, defineRule, limit, noData } from '../../engine/rule.ts';

export const scaleDrifting = defineRule({
  id: 'scale-drifting',
  on: 'nuc',
  title: 'Scale drifts with the temperature',
  about: 'By night the weight follows the temperature more than a sound load cell does.',
  urgency: 'next-visit',
  holdMin: 1440,
  clearHoldMin: 1440,
  limits: {
    gPerK: limit(20, [5, 200], 'g', 'Grams a degree at which the scale is not believed'),
    easierGPerK: limit(15, [2, 200], 'g', 'Grams a degree under which it clears'),
  },
  sources: ['from memory: 0.05 % of full scale in 10 K, so 10 g a degree on a 200 kg cell'],
  evaluate({ signals, nowMs }, { gPerK, easierGPerK }) {
    const drift = signals?.scaleTemperature;
    if (!drift) return noData('no scale stands under this nuc');
    if (!drift.ok) return noData(drift.why);
    // The end of the interval that is nearer to no drift at all: sure enough to accuse the scale.
    const surely = drift.low > 0 ? drift.low : drift.high < 0 ? -drift.high : 0;
    return decide({
      conditions: [atLeast('Grams a degree, at the least', surely, gPerK, 'g')],
      clear: () => surely < easierGPerK,
      message: () => ({
        todo: say`At the next visit: shade the load cell, check that the box stands free, calibrate with a known weight.`,
        seen: say`Its reading moves by ${grams(drift.value)} for each ${kelvin(1)} (${grams(drift.low)} to ${grams(drift.high)}).`,
        why: say`With this drift the night’s cooling looks like stores eaten, and the departure of foragers can’t be read.`,
        howSure: say`Worked out from ${drift.restsOn.join(', ')}.`,
        facts: [{ name: 'Drift a degree', ...grams(drift.value) }],
      }),
      evidence: { place: 'scale', fromMs: nowMs - 7 * 86_400_000, toMs: nowMs },
    });
  },
});
