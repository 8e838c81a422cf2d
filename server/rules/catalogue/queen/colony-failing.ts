/** A nest that was regulated is no longer: the colony is failing or has gone. */
import { atHourOfDate } from '../../../introduction/calendar.ts';
import { holds } from '../../engine/conditions.ts';
import { dayOf, say } from '../../../words/phrase.ts';
import { decide, defineRule, noData } from '../../engine/rule.ts';

/** Setting: the hour that stands for a day. */
const noon = 12;

export const colonyFailing = defineRule({
  id: 'colony-failing',
  on: 'nuc',
  title: 'Colony failing',
  about: 'A brood nest that was held warm for days and no longer is, while its sensor goes on reporting.',
  urgency: 'today',
  holdMin: 180,
  clearHoldMin: 1440,
  limits: {},
  sources: ['Meikle et al. 2014 (within-day variability tells brood from none); Jones et al. 2005 (band)'],
  evaluate({ signals, nowMs, timeZone }) {
    if (!signals) return noData('no probe on the brood frame');
    const { state, since, why } = signals.failing;
    if (state === 'cannot-tell') return noData(why);
    return decide({
      conditions: [holds('Regulation lost', state === 'failing', state, 'failing')],
      clear: () => state === 'no',
      message: () => ({
        todo: say`Look at it today: bees on the brood, a queen or eggs, signs of disease. Move nothing from it to another colony before that.`,
        seen:
          since === null ? say`${why}.` : say`Since ${dayOf(atHourOfDate(since, noon, timeZone))}: ${why}.`,
        why: say`Brood that nobody warms dies; a colony in this state rarely recovers by itself.`,
        howSure: say`The sensor itself is still reporting. A probe that slipped away from the brood looks the same.`,
        settleBy: say`A look under the lid.`,
        facts: [],
      }),
      evidence: { place: 'brood', fromMs: nowMs - 10 * 86_400_000, toMs: nowMs },
    });
  },
});
