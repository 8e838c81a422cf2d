/** A visit was fixed for a day on which the brood or the queen does not allow it yet. */
import { holds } from '../../engine/conditions.ts';
import type { PlannedVisit } from '../../engine/inputs.ts';
import { isUnderWay } from '../introduction-stage.ts';
import { clock, dayOf, say } from '../../../words/phrase.ts';
import { decide, defineRule, limit, nothingFound, notApplicable } from '../../engine/rule.ts';

export const visitTooEarly = defineRule({
  id: 'visit-too-early',
  on: 'nuc',
  title: 'Not yet: visit planned too early',
  about: 'A cut of cells, or a look inside the hands-off days, is planned before its earliest moment.',
  urgency: 'next-visit',
  holdMin: 15,
  clearHoldMin: 0,
  limits: { aheadDays: limit(3, [0, 30], 'd', 'How many days before the visit the alert comes') },
  sources: ['Fell & Morse 1984 (ages of larvae that cells are raised from); hands-off days: common practice'],
  evaluate({ introduction, plan, nowMs }, { aheadDays }) {
    if (!isUnderWay(introduction)) return notApplicable('no introduction is under way');
    const near = (targetMs: number) => targetMs >= nowMs && targetMs - nowMs <= aheadDays * 86_400_000;
    const early = plan.find(
      ({ done, targetMs, earliestMs }) => !done && near(targetMs) && targetMs < earliestMs,
    );
    if (!early) return nothingFound(holds('A step planned before its earliest moment', false, 'none', 'any'));
    return decide({
      conditions: [holds('A step planned before its earliest moment', true, early.whatToDo, 'any')],
      clear: () => true,
      message: () => messageOf(early),
    });
  },
});

function messageOf(step: PlannedVisit) {
  return {
    todo: say`Move “${step.whatToDo}” from ${dayOf(step.targetMs)} to ${clock(step.earliestMs)} or later.`,
    byMs: step.targetMs,
    seen: say`It is fixed for ${dayOf(step.targetMs)}; the earliest moment is ${clock(step.earliestMs)}.`,
    why:
      step.kind === 'look-for-queen'
        ? say`Opening the nuc in the days after the release can get the queen killed.`
        : say`While larvae are young enough, the bees start new cells after the cut: it can’t be the last one.`,
    howSure: say`From the log’s own dates and the published ages.`,
    facts: [],
  };
}
