/** The queen in her cage is hotter than is safe for her. */
import { cageDoseKh } from '../../../biology/assumed-figures.ts';
import { judgeCage, queenSafe } from './caged-queen.ts';
import { say } from '../../../words/phrase.ts';
import { defineRule, limit } from '../../engine/rule.ts';
import { staleMin } from './thermal-finding.ts';

export const cageTooHot = defineRule({
  id: 'cage-too-hot',
  on: 'nuc',
  title: 'Caged queen too hot',
  about: 'Temperature beside the cage over what a mated queen stands, while she is in it.',
  urgency: 'now',
  holdMin: 10,
  clearHoldMin: 30,
  limits: {
    doseKh: limit(
      cageDoseKh.value,
      [0, 20],
      '°C·h',
      'Heat that counts, in degrees over the limit times hours',
    ),
    staleMin,
    easierK: limit(0.5, [0, 5], 'K', 'How far under the limit it must be to clear'),
  },
  sources: [queenSafe],
  evaluate: (input, limits) =>
    judgeCage(input, 'heat', limits, () => ({
      what: 'The cage is',
      todo: say`Shade the nuc now, open its entrance and any vent; is a closed nuc still shut up from the move?`,
      why: say`Heat costs a queen her stored sperm within hours.`,
      settleBy: say`Bees hanging out at the front, or running on the combs?`,
    })),
});
