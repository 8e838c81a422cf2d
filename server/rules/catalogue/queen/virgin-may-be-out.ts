/** A virgin may be walking the combs: cells were not cut in time, or not found in time. */
import { holds } from '../../engine/conditions.ts';
import { isBeforeRelease } from '../introduction-stage.ts';
import { clock, say } from '../../../words/phrase.ts';
import { decide, defineRule, limit, noData, notApplicable } from '../../engine/rule.ts';

export const virginMayBeOut = defineRule({
  id: 'virgin-may-be-out',
  on: 'nuc',
  title: 'A virgin may be out',
  about: 'By the log a virgin may have emerged since the last complete look, or one was seen.',
  urgency: 'today',
  holdMin: 0,
  clearHoldMin: 0,
  limits: { aheadH: limit(0, [0, 72], 'h', 'How long before the first possible virgin the alert comes') },
  sources: ['Mussen et al. 1987 (16 days); Fell & Morse 1984 (larval ages); half a day less in a warm nest'],
  evaluate({ introduction, nowMs }, { aheadH }) {
    if (!isBeforeRelease(introduction)) return notApplicable('no queen waits to be released');
    const { virgin } = introduction;
    if (!virgin) return noData('since when it is queenless is not logged');
    const { loose, possibleFromMs, why, settledBy } = virgin;
    const near = possibleFromMs !== null && nowMs >= possibleFromMs - aheadH * 3_600_000;
    const mayBeLoose = loose !== 'excluded' || near;
    return decide({
      conditions: [holds('A virgin may be loose', mayBeLoose, loose, 'possible or seen')],
      clear: () => true,
      // Without a date nothing became more pressing today.
      urgency: possibleFromMs === null && loose === 'possible' ? 'next-visit' : 'today',
      message: () => ({
        todo: say`Look through every frame with the bees shaken off: opened cells, a small quick queen. ${introduction.queenCagedSinceMs === null ? 'Let no queen out' : 'Do not let the caged queen out'} until that is settled.`,
        seen:
          possibleFromMs === null
            ? say`By the log: ${why}.`
            : say`Possible from ${clock(possibleFromMs)}: ${why}.`,
        why: say`Bees with a virgin of their own kill the queen that you release.`,
        howSure:
          loose === 'seen'
            ? say`It was seen and logged.`
            : say`A date, not a sighting. The bees tear about half of their emergency cells down again, so that a cell that is gone proves nothing.`,
        ...(settledBy !== null && { settleBy: say`${settledBy}.` }),
        facts: [],
      }),
    });
  },
});
