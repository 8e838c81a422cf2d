/** Brood is colder than it can stand at its stage, now. */
import { isUnderWay } from './introduction-stage.ts';
import { say } from './phrase.ts';
import { defineRule, limit, noData, notApplicable } from './rule.ts';
import { judgeDose } from './thermal-finding.ts';

export const broodChilling = defineRule({
  id: 'brood-chilling',
  on: 'nuc',
  title: 'Brood is chilling',
  about:
    'Brood temperature under what open or sealed brood stands, for long enough to matter, at a stage with brood.',
  urgency: 'now',
  holdMin: 20,
  clearHoldMin: 30,
  limits: {
    doseKh: limit(0.5, [0, 20], '°C·h', 'Degree-hours under the limit before it counts'),
    easierK: limit(0.5, [0, 3], 'K', 'How far above the limit it must be to clear'),
  },
  sources: ['limits by stage: see the brood temperature figures; holding time and dose: common practice'],
  evaluate({ introduction, signals, nowMs }, limits) {
    if (!isUnderWay(introduction)) return notApplicable('no introduction is under way');
    if (!signals) return noData('no probe on the brood frame');
    const { regime } = signals.brood;
    if (regime === 'broodless' || regime === 'unknown') return notApplicable(`no brood to chill: ${regime}`);
    const what = regime === 'sealed-brood' ? 'sealed-brood' : 'open-brood';
    const dose = signals.doses.find((d) => d.what === what && d.direction === 'cold');
    if (!dose || dose.nowC === null) return noData('no recent brood temperature');
    return judgeDose(dose, 'brood', limits, nowMs, () => ({
      what: what === 'sealed-brood' ? 'Sealed brood' : 'Open brood',
      todo: say`Warm it now: close the entrance down, insulate the lid, add a frame of nurse bees if you have one. Do not open it for longer than that takes.`,
      why:
        what === 'sealed-brood'
          ? say`Sealed brood is hurt most by cold: young bees die in their cells or emerge weak, and this nuc has no others to come.`
          : say`Open brood that chills is thrown out or falls ill, and with it go the nurses that should receive the queen.`,
      settleBy: say`A quick look from above: do the bees still cover the brood, is the probe among them?`,
    }));
  },
});
