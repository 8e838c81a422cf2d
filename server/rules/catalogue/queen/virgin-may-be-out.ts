/** A virgin may be walking the combs: cells were not cut in time, or not found in time. */
import { holds } from '../../engine/conditions.ts';
import type { PlannedVisit } from '../../engine/inputs.ts';
import { isBeforeRelease, nextStep } from '../introduction-stage.ts';
import { clock, dayOf, say, type Phrase } from '../../../words/phrase.ts';
import { decide, defineRule, limit, noData, notApplicable } from '../../engine/rule.ts';

/** As the plan has it: where a look would find nothing more a test frame tells. */
function whatSettles(plan: readonly PlannedVisit[]): Phrase {
  const frame = nextStep(plan, 'test-frame-in') ?? nextStep(plan, 'test-frame-out');
  if (frame && frame.blockedBy === undefined)
    return frame.kind === 'test-frame-in'
      ? say`Put a test frame in on ${dayOf(frame.targetMs)}: eggs and young larvae from a healthy colony.`
      : say`Take the test frame out on ${dayOf(frame.targetMs)}, and look for queen cells on it.`;
  return say`Look through every frame with the bees shaken off: opened cells, a small quick queen.`;
}

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
  evaluate({ introduction, plan, nowMs }, { aheadH }) {
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
        todo: say`${whatSettles(plan)} ${introduction.queenCagedSinceMs === null ? 'Let no queen out' : 'Do not let the caged queen out'} until that is settled.`,
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
