/** The scale reads nothing under a nest that is where it was: it started anew, or was set to zero. */
import { judgeBoxStep } from '../box/box-step.ts';
import { clock, grams, say } from '../../../words/phrase.ts';
import { defineRule, limit } from '../../engine/rule.ts';

export const scaleLostZero = defineRule({
  id: 'scale-lost-zero',
  on: 'nuc',
  title: 'Scale lost its zero',
  about: 'The whole weight left the scale at once, and the brood probe still reads a warm nest.',
  urgency: 'today',
  holdMin: 15,
  clearHoldMin: 15,
  limits: { lookBackH: limit(168, [1, 720], 'h', 'How long such an event stands') },
  sources: ['the scale, and the brood probe'],
  evaluate: (input, { lookBackH }) =>
    judgeBoxStep(input, 'zeroed', lookBackH, true, (step) => ({
      todo: say`See whether the box stands on its scale. If it does, set the scale’s zero anew. If you moved it, log the move.`,
      seen: say`At ${clock(step.atMs)} ${grams(-step.sizeG)} left the scale at once. But the brood stayed warm.`,
      why: say`Until its zero is right again, its stores can’t be told.`,
      howSure: say`A nest that stays warm was not carried off. A scale that starts anew often sets itself to zero.`,
    })),
});
