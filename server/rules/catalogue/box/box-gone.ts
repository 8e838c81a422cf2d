/** The box is no longer on its scale. */
import { judgeBoxStep } from './box-step.ts';
import { clock, grams, say } from '../../../words/phrase.ts';
import { defineRule, limit } from '../../engine/rule.ts';

/** Setting: so long such an event stands, unless the owner chose otherwise. */
export const boxGoneHours = 720;

export const boxGone = defineRule({
  id: 'box-gone',
  on: 'nuc',
  title: 'Box gone from its scale',
  about: 'Nothing stands on the scale any more, and no visit or move is logged.',
  urgency: 'now',
  holdMin: 15,
  clearHoldMin: 15,
  limits: { lookBackH: limit(boxGoneHours, [1, 4320], 'h', 'How long such an event stands') },
  sources: ['the scale'],
  evaluate: (input, { lookBackH }) =>
    judgeBoxStep(input, 'gone', lookBackH, true, (step) => ({
      todo: say`If you moved it, log the move. If not, go and look; a theft is for the police.`,
      seen: say`At ${clock(step.atMs)} ${grams(-step.sizeG)} left the scale and nothing is on it since.`,
      why: say`Without its scale nothing else here is measured any more.`,
      howSure: say`Certain that the scale is empty, or broken.`,
    })),
});
