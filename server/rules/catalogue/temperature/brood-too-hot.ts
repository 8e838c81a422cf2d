/** Brood is hotter than it can stand, now: a closed entrance, sun on the lid, or bees shut in. */
import { broodAtStake } from './brood-at-stake.ts';
import { say } from '../../../words/phrase.ts';
import { defineRule, limit, notApplicable } from '../../engine/rule.ts';
import { judgeDose, staleMin } from './thermal-finding.ts';

export const broodTooHot = defineRule({
  id: 'brood-too-hot',
  on: 'nuc',
  title: 'Brood is too hot',
  about: 'Brood temperature over what brood stands, for long enough to matter.',
  urgency: 'now',
  holdMin: 20,
  clearHoldMin: 30,
  limits: {
    doseKh: limit(0.5, [0, 20], '°C·h', 'Degree-hours over the limit before it counts'),
    staleMin,
    easierK: limit(0.5, [0, 3], 'K', 'How far under the limit it must be to clear'),
  },
  sources: [
    'Becher & Moritz 2009; Stabentheiner et al. 2010 (upper edge of the band, a degree allowed for the probe)',
  ],
  evaluate({ introduction, signals, nowMs }, limits) {
    const brood = broodAtStake(introduction, signals);
    if (!brood.ok) return notApplicable(brood.why);
    const dose = brood.signals.doses.find((d) => d.what === brood.what && d.direction === 'heat');
    return judgeDose(dose, 'brood', limits, nowMs, () => ({
      what: 'Brood',
      todo: say`Shade it, open its entrance and vents: is it still shut up from the move, or in the sun with water out of reach?`,
      why: say`Bees that are shut in and overheat can die within the hour, and the brood with them.`,
      settleBy: say`Bees fanning or hanging out at the front? None flying in warm weather: is the entrance closed?`,
    }));
  },
});
