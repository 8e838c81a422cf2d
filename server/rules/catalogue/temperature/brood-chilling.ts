/** Brood is colder than it can stand at its stage, now. */
import { urgentBroodDoseKh, openBroodDoseKh, sealedBroodDoseKh } from '../../../biology/figures.ts';
import type { NucSignals } from '../../../signals/types.ts';
import { broodInReach } from './brood-at-stake.ts';
import { nobodyHasLooked } from './nobody-has-looked.ts';
import { staysShut } from '../introduction-stage.ts';
import { say } from '../../../words/phrase.ts';
import { defineRule, limit, notApplicable } from '../../engine/rule.ts';
import { judgeDose, staleMin } from './thermal-finding.ts';
import { dayMs } from '../../../durations.ts';

export const broodChilling = defineRule({
  id: 'brood-chilling',
  on: 'nuc',
  title: 'Brood is chilling',
  about:
    'Brood temperature under what open or sealed brood stands, for long enough to matter, at a stage with brood. More pressing as the cold adds up.',
  urgency: 'now',
  holdMin: 20,
  clearHoldMin: 1440,
  limits: {
    sealedDoseKh: limit(
      sealedBroodDoseKh.value,
      [0, 40],
      '°C·h',
      'Cold at which sealed brood raises it, degrees times hours',
    ),
    openDoseKh: limit(
      openBroodDoseKh.value,
      [0, 40],
      '°C·h',
      'Cold at which open brood raises it: it stands cold longer',
    ),
    nowDoseKh: limit(
      urgentBroodDoseKh.value,
      [0, 60],
      '°C·h',
      'Cold from which it can’t wait until the evening',
    ),
    staleMin,
    easierK: limit(0.5, [0, 3], 'K', 'How far above the limit it must be to clear'),
  },
  sources: [
    'Stabentheiner et al. 2021; Becher & Moritz 2009 (limits); holding time and dose: common practice',
  ],
  evaluate(input, { sealedDoseKh, openDoseKh, nowDoseKh, ...limits }) {
    const { introduction, signals, nowMs } = input;
    const brood = broodInReach(introduction, signals);
    if (!brood.ok) return nobodyHasLooked(input, limits.easierK) ?? notApplicable(brood.why);
    const dose = brood.signals.doses.find((d) => d.what === brood.what && d.direction === 'cold');
    if (dose && !dose.beyondNow && cameIntoWarmth(brood.signals, nowMs))
      return notApplicable('at a visit the probe came to lie in the warm: before, it was elsewhere');
    const sealed = brood.what === 'sealed-brood';
    const doseKh = sealed ? sealedDoseKh : openDoseKh;
    return judgeDose(dose, 'brood', { doseKh, nowDoseKh, ...limits }, nowMs, () => ({
      what: sealed ? 'Sealed brood' : 'Open brood',
      todo: staysShut(introduction)
        ? say`Warm it from outside: insulate lid and walls, narrow the entrance, shelter it from wind. Keep it shut: the queen has just been let out.`
        : say`Warm it: insulate the lid, narrow the entrance, add nurse bees if you have them. Shut it again soon.`,
      why: brood.why,
      settleBy: staysShut(introduction)
        ? say`Do bees fly, and is the box warm under the lid? Has the probe slipped out?`
        : say`A quick look from above: do bees cover the brood, and is the probe among them?`,
    }));
  },
});

const cameIntoWarmth = ({ probeJumps }: NucSignals, nowMs: number): boolean =>
  probeJumps.some(({ atMs, fromC, toC, explainedBy }) => explainedBy && toC > fromC && nowMs - atMs < dayMs);
