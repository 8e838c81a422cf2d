/** The nest is steady when there should be no brood in it: somebody lays in there already. */
import { steadyDays, steadyNestFromC, usualSpreadK } from '../../../biology/figures.ts';
import type { BroodDay } from '../../../signals/types.ts';
import { isoDate } from '../../../introduction/calendar.ts';
import { atLeast, holds } from '../../engine/conditions.ts';
import { isUnderWay } from '../introduction-stage.ts';
import { days, degC, kelvin, say } from '../../../words/phrase.ts';
import { decide, defineRule, limit, noData, notApplicable } from '../../engine/rule.ts';
import { coveredDay } from '../temperature/thermal-finding.ts';

export const steadyingTooEarly = defineRule({
  id: 'steadying-too-early',
  on: 'nuc',
  title: 'Steady too early',
  about: 'The nest is as steady as with brood, at a stage at which no brood can be there.',
  urgency: 'next-visit',
  holdMin: 360,
  clearHoldMin: 1440,
  limits: {
    days: limit(steadyDays.value, [2, 10], 'd', 'Steady days in a row'),
    spreadK: limit(usualSpreadK.value, [0.3, 3], 'K', 'Spread of a day up to which it counts as steady'),
    fromC: limit(steadyNestFromC.value, [30, 35], '°C', 'Level from which it counts as a brood nest'),
  },
  sources: ['Stabentheiner et al. 2021; Meikle et al. 2014 (without brood: lower and much more variable)'],
  evaluate({ introduction, signals, nowMs, timeZone }, { days: least, spreadK, fromC }) {
    if (!isUnderWay(introduction)) return notApplicable('no introduction is under way');
    if (!signals) return noData('no probe on the brood frame');
    if (signals.brood.regime !== 'broodless') return notApplicable('brood is expected at this stage');
    // On the days before, the old brood kept it steady.
    const emergedOn = isoDate(introduction.oldBroodUntilMs ?? 0, timeZone);
    const today = isoDate(nowMs, timeZone);
    const broodless = signals.broodDays.filter(
      ({ date, coverage }) => date > emergedOn && date < today && coverage >= coveredDay,
    );
    const run = steadyRun(broodless, spreadK, fromC);
    const last = broodless.at(-1);
    if (!last) return noData('no full day without brood yet');
    return decide({
      conditions: [
        holds('No brood is expected', true, signals.brood.regime, 'broodless'),
        atLeast('Steady days in a row', run, least, 'd'),
      ],
      clear: () => run === 0,
      message: () => ({
        todo: say`Look for eggs before anything else is done with a bought queen: is there a virgin that mated, or are workers laying?`,
        seen: say`${days(run)} in a row near ${degC(last.medianC)} with a spread of only ${kelvin(last.spreadC)}.`,
        why: say`A nest steady like this is warming brood, and the log says that there can be none.`,
        howSure: say`A hint: a strong cluster around the probe in warm weather can do it too.`,
        settleBy: say`Eggs: one in each cell, or several.`,
        facts: [{ name: 'Spread of the day', ...kelvin(last.spreadC) }],
      }),
      evidence: { place: 'brood', fromMs: nowMs - 7 * 86_400_000, toMs: nowMs },
    });
  },
});

/** Newest days in a row that were steady. */
const steadyRun = (days: readonly BroodDay[], spreadK: number, fromC: number): number =>
  days.length - 1 - days.findLastIndex(({ spreadC, medianC }) => spreadC > spreadK || medianC < fromC);
