/** The box was knocked over: much of its weight left the scale and did not come back. */
import { judgeBoxStep } from './box-step.ts';
import { clock, grams, say } from '../../../words/phrase.ts';
import { defineRule, limit } from '../../engine/rule.ts';

export const boxToppled = defineRule({
  id: 'box-toppled',
  on: 'nuc',
  title: 'Box knocked over',
  about: 'Most of the weight left the scale at once and has not come back.',
  urgency: 'now',
  holdMin: 5,
  clearHoldMin: 30,
  limits: { lookBackH: limit(72, [1, 336], 'h', 'How long such an event stands') },
  sources: ['the scale'],
  evaluate: (input, { lookBackH }) =>
    judgeBoxStep(input, 'toppled', lookBackH, true, (step) => ({
      todo: say`Go there now, veiled and not alone; set it up, and look whether the cage is still where it was.`,
      seen: say`At ${clock(step.atMs)} the scale lost ${grams(-step.sizeG)} at once.`,
      why: say`Brood on its side in the cold is lost in hours, and the queen may be outside.`,
      howSure: say`A fall of more than half of the weight; a box that slid off its scale looks the same.`,
    })),
});
