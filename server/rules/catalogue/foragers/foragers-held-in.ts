/** Days have passed since the split and the foragers had no weather to fly home in. */
import { foragersLeaveDays } from '../../../biology/figures.ts';
import { atLeast, holds } from '../../engine/conditions.ts';
import { nextStep, waitsForForagers } from '../introduction-stage.ts';
import { dayOf, days, hours, say } from '../../../words/phrase.ts';
import { decide, defineRule, limit, notApplicable } from '../../engine/rule.ts';

export const foragersHeldIn = defineRule({
  id: 'foragers-held-in',
  on: 'nuc',
  title: 'Foragers held in by the weather',
  about: 'Says so when a split had no flying weather for days, so that its foragers are still in it.',
  urgency: 'next-visit',
  holdMin: 60,
  clearHoldMin: 60,
  limits: {
    afterDays: limit(foragersLeaveDays.value, [1, 7], 'd', 'Days since the split without flying weather'),
  },
  sources: ['Burrill & Dietz 1981: usually no flight below 12 °C; the number of days is common practice'],
  evaluate({ introduction, signals, plan, nowMs }, { afterDays }) {
    if (!waitsForForagers(introduction))
      return notApplicable('no split is waiting for its foragers to leave');
    if (!signals) return notApplicable('no sensor stands under or in this nuc');
    const { state, flightHours } = signals.drift;
    const sinceDays = (nowMs - introduction.splitAtMs) / 86_400_000;
    const cut = nextStep(plan, 'cut-cells');
    return decide({
      conditions: [
        holds('No flying weather yet', state === 'no-flying-weather', state, 'no-flying-weather'),
        atLeast('Days since the split', sinceDays, afterDays, 'd'),
      ],
      clear: () => state !== 'no-flying-weather',
      message: () => ({
        todo: cut
          ? say`Expect old bees at the cut of ${dayOf(cut.targetMs)}: do it in the middle of the first warm day within its dates.`
          : say`Put off what needs a nuc of young bees until after the first flying days.`,
        ...(cut && { byMs: cut.latestMs }),
        seen: say`Only ${hours(flightHours)} of flying weather in the ${days(Math.floor(sinceDays))} since the split.`,
        why: say`Foragers leave only in flying weather; while they are in, the box is fuller and less friendly to a queen.`,
        howSure: say`Judged by temperature, daylight and rain at the site; the scale shows no daily loss of bees.`,
        facts: [{ name: 'Flying weather', ...hours(flightHours) }],
      }),
    });
  },
});
