/** The box was lifted and set down again, and nobody logged it. */
import { judgeBoxStep } from './box-step.ts';
import { clock, grams, say } from '../../../words/phrase.ts';
import { defineRule, limit } from '../../engine/rule.ts';

/** Method: errors under which a change of weight is none. */
const sureSd = 3;

export const boxLifted = defineRule({
  id: 'box-lifted',
  on: 'nuc',
  title: 'Box lifted',
  about: 'The whole weight left the scale for a moment and came back, and no visit is logged.',
  urgency: 'next-visit',
  holdMin: 60,
  clearHoldMin: 0,
  limits: { lookBackH: limit(24, [1, 168], 'h', 'How long such an event stands as news') },
  sources: ['the scale'],
  evaluate: (input, { lookBackH }) =>
    judgeBoxStep(input, 'lifted', lookBackH, false, (step) => ({
      todo: say`If it was you, log it. If not, ask who was at the hives.`,
      seen:
        Math.abs(step.sizeG) < sureSd * step.sizeSdG
          ? say`At ${clock(step.atMs)} the box was off its scale; it weighs the same as before.`
          : say`At ${clock(step.atMs)} the box was off its scale; since then it weighs ${grams(Math.abs(step.sizeG))} ${step.sizeG < 0 ? 'less' : 'more'}.`,
      why: say`A box that is handled loses warmth and calm, and in some places hives are stolen.`,
      howSure: say`The scale felt it; who it was it can’t say.`,
    })),
});
