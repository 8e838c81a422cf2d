/** Brood is hotter than it can stand, now: a closed entrance, sun on the lid, or bees shut in. */
import { broodFarTooHotC, farHeatDoseKh, heatDoseKh } from '../../../biology/figures.ts';
import { broodAtStake } from './brood-at-stake.ts';
import { say } from '../../../words/phrase.ts';
import { defineRule, limit, notApplicable } from '../../engine/rule.ts';
import { judgeDose, staleMin } from './thermal-finding.ts';

export const broodTooHot = defineRule({
  id: 'brood-too-hot',
  on: 'nuc',
  title: 'Brood is too hot',
  about: 'Brood far over what it stands, or a little over it for hours. Told once a day.',
  urgency: 'now',
  holdMin: 20,
  // A hot spell goes down each night and comes again: one alert for all of it.
  clearHoldMin: 1440,
  limits: {
    farC: limit(broodFarTooHotC.value, [36, 45], '°C', 'From this on the shorter dose counts'),
    farDoseKh: limit(
      farHeatDoseKh.value,
      [0, 40],
      '°C·h',
      'Heat that counts then, in degrees over the limit times hours',
    ),
    doseKh: limit(heatDoseKh.value, [0, 40], '°C·h', 'The same for less heat'),
    staleMin,
    easierK: limit(0.5, [0, 3], 'K', 'How far under the limit it must be to clear'),
  },
  sources: [
    'Becher & Moritz 2009; Stabentheiner et al. 2010 (upper edge of the band, a degree allowed for the probe)',
  ],
  evaluate({ introduction, signals, nowMs }, { farC, farDoseKh, doseKh, ...limits }) {
    const brood = broodAtStake(introduction, signals);
    if (!brood.ok) return notApplicable(brood.why);
    const dose = brood.signals.doses.find((d) => d.what === brood.what && d.direction === 'heat');
    const isFar = dose?.nowC != null && dose.nowC >= farC;
    return judgeDose(dose, 'brood', { ...limits, doseKh: isFar ? farDoseKh : doseKh }, nowMs, () => ({
      what: 'Brood',
      todo: say`Shade it, set water near it, open its entrance and vents. Is it still shut up from the move?`,
      why: say`Bees that are shut in and overheat can die within the hour, and the brood with them.`,
      settleBy: say`Bees fanning or hanging out at the front? None flying in warm weather: is the entrance closed?`,
    }));
  },
});
