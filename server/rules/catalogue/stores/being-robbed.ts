/** Other bees are carrying the stores off. */
import { robbedDays } from '../../../biology/figures.ts';
import { holds } from '../../engine/conditions.ts';
import { isUnderWay } from '../introduction-stage.ts';
import { grams, gramsPerHour, plain, say } from '../../../words/phrase.ts';
import { decide, defineRule, limit, noData, notApplicable } from '../../engine/rule.ts';

export const beingRobbed = defineRule({
  id: 'being-robbed',
  on: 'nuc',
  title: 'Being robbed',
  about:
    'Loss of weight by daylight that does not come home at dusk: day after day, or for hours and more than bees can be.',
  urgency: 'today',
  holdMin: 30,
  clearHoldMin: 1440,
  limits: { days: limit(robbedDays.value, [2, 7], 'd', 'Days of such loss') },
  sources: ['computed from the scale; what to do is common practice'],
  evaluate({ introduction, signals, nowMs }, { days }) {
    if (!isUnderWay(introduction)) return notApplicable('no introduction is under way');
    if (!signals) return noData('no scale stands under this nuc');
    const { underWay, carriedOff = false, days: found, why } = signals.robbing;
    const last = found.at(-1);
    const enough = underWay && (carriedOff || found.length >= days);
    return decide({
      conditions: [holds('Robbing under way', enough, why, 'going on today')],
      clear: () => !underWay,
      message: () => ({
        todo: say`Narrow the entrance to one bee’s width ${carriedOff ? 'at once' : 'today'}, close every other gap, take away open feed. Move it at dusk if that is not enough.`,
        seen: last
          ? carriedOff
            ? say`${grams(last.lossG)} carried off since the morning, at up to ${gramsPerHour(last.fastestGPerH)}.`
            : say`${grams(last.lossG)} lost on the last such day, at up to ${gramsPerHour(last.fastestGPerH)}; ${plain(found.length)} days so far.`
          : say`${why}.`,
        why: say`A queenless nuc defends itself badly, and robbers kill a caged queen’s attendants and bees.`,
        howSure: carriedOff
          ? say`It went on for hours, and is more than the bees that are ever out at once.`
          : say`Foragers that fly home for good take weight as well, but not again day after day.`,
        settleBy: say`Bees fighting at the entrance, dark shiny ones going in and out, traffic until late.`,
        facts: last ? [{ name: 'Lost on the last day', ...grams(last.lossG) }] : [],
      }),
      evidence: { place: 'scale', fromMs: nowMs - 72 * 3_600_000, toMs: nowMs },
    });
  },
});
