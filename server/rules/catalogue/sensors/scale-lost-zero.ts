/** The scale reads nothing and the nest is warm: it started anew, or the box was carried off with a probe that still reports. */
import { judgeBoxStep } from '../box/box-step.ts';
import { clock, grams, say } from '../../../words/phrase.ts';
import { defineRule, limit } from '../../engine/rule.ts';

export const scaleLostZero = defineRule({
  id: 'scale-lost-zero',
  on: 'nuc',
  title: 'Box gone, or scale lost its zero',
  about: 'The whole weight left the scale at once, and the brood probe still reads a warm nest.',
  // A thief has hours, and a scale that starts anew is seldom: the one look more costs less than the box.
  urgency: 'now',
  holdMin: 15,
  clearHoldMin: 15,
  limits: { lookBackH: limit(168, [1, 720], 'h', 'How long such an event stands') },
  sources: ['the scale, and the brood probe'],
  evaluate: (input, { lookBackH }) =>
    judgeBoxStep(input, 'zeroed', lookBackH, true, (step) => ({
      todo: say`Find out now whether the box stands on its scale: it may be stolen or blown off. If it stands, set the scale’s zero anew. If you moved it, log the move.`,
      seen: say`At ${clock(step.atMs)} ${grams(-step.sizeG)} left the scale at once. But the brood is warm, and its probe reports.`,
      why: say`A stolen nuc is gone within hours. Until its zero is right again, its stores can’t be told.`,
      howSure: say`A scale that starts anew often sets itself to zero. But a stolen nest stays warm for hours, and long-range radio reports from afar.`,
    })),
});
