/** The queen in her cage is colder than is safe for her. */
import { cageDoseKh } from '../../../biology/assumed-figures.ts';
import { judgeCage, queenSafe } from './caged-queen.ts';
import { say } from '../../../words/phrase.ts';
import { defineRule, limit } from '../../engine/rule.ts';
import { staleMin } from './thermal-finding.ts';

export const cageTooCold = defineRule({
  id: 'cage-too-cold',
  on: 'nuc',
  title: 'Caged queen too cold',
  about: 'Temperature beside the cage under what a mated queen stands, while she is in it.',
  urgency: 'now',
  holdMin: 10,
  clearHoldMin: 30,
  limits: {
    doseKh: limit(
      cageDoseKh.value,
      [0, 20],
      '°C·h',
      'Cold that counts, in degrees under the limit times hours',
    ),
    staleMin,
    easierK: limit(1, [0, 5], 'K', 'How far above the limit it must be to clear'),
  },
  sources: [queenSafe],
  evaluate: (input, limits) =>
    judgeCage(input, 'cold', limits, () => ({
      what: 'The cage is',
      todo: say`Move the cage into the middle of the bees now, flat between two frames of brood. Or take her indoors at room temperature until they cover it.`,
      why: say`Cold costs a queen her stored sperm; she may be accepted and fail weeks later.`,
      settleBy: say`Are bees sitting on the cage, and is the probe beside it?`,
    })),
});
