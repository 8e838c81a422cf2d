/** Weeks after the release the nest is not as steady as a laying queen makes it. */
import { steadyAgainDays } from '../../../biology/figures.ts';
import { atLeast, holds } from '../../engine/conditions.ts';
import { isUnderWay } from '../introduction-stage.ts';
import { days, say } from '../../../words/phrase.ts';
import { decide, defineRule, limit, noData, notApplicable } from '../../engine/rule.ts';

export const notSteadying = defineRule({
  id: 'not-steadying',
  on: 'nuc',
  title: 'Nest is not steadying',
  about: 'By now the brood of a new queen should hold the nest steady, and nothing of it shows.',
  urgency: 'next-visit',
  holdMin: 720,
  clearHoldMin: 720,
  limits: {
    daysAfterRelease: limit(
      steadyAgainDays.value,
      [7, 40],
      'd',
      'Days after the release from which it counts',
    ),
  },
  sources: ['Meikle et al. 2014; Stabentheiner et al. 2021 (with brood: steady; without: variable)'],
  evaluate({ introduction, signals, nowMs }, { daysAfterRelease }) {
    if (!isUnderWay(introduction) || introduction.candyOpenedAtMs === null)
      return notApplicable('she is not released yet');
    if (!signals) return noData('no probe on the brood frame');
    const { state, why, daysSinceRelease } = signals.regulation;
    if (state === 'cannot-tell') return noData(why);
    return decide({
      conditions: [
        holds('Signs of new brood', state === 'not-agreeing', state, 'not-agreeing'),
        atLeast('Days since the release', daysSinceRelease, daysAfterRelease, 'd'),
      ],
      clear: () => state !== 'not-agreeing',
      message: () => ({
        todo: say`At the next visit look for eggs and for her; no eggs and calm bees: hang in a test frame.`,
        seen: say`${why}; ${days(daysSinceRelease ?? 0)} after the release.`,
        why: say`Either she does not lay, or she is gone.`,
        howSure: say`A hint, not a proof: a probe away from the brood reads the same.`,
        settleBy: say`Eggs, or sealed worker brood.`,
        facts: [],
      }),
      evidence: { place: 'brood', fromMs: nowMs - 7 * 86_400_000, toMs: nowMs },
    });
  },
});
