/** A step of the plan has come due. */
import { holds } from './conditions.ts';
import { isUnderWay } from './introduction-stage.ts';
import { clock, dayOf, say } from './phrase.ts';
import { decide, defineRule, limit, notApplicable } from './rule.ts';

export const visitDue = defineRule({
  id: 'visit-due',
  on: 'nuc',
  title: 'Visit due',
  about: 'A planned step has reached its day and has not been logged.',
  urgency: 'today',
  holdMin: 0,
  clearHoldMin: 0,
  limits: { aheadH: limit(12, [0, 72], 'h', 'How long before the planned time it is told') },
  sources: ['the plan'],
  evaluate({ introduction, plan, nowMs }, { aheadH }) {
    const step = plan.find(({ done }) => !done);
    if (!isUnderWay(introduction) || !step) return notApplicable('nothing is planned');
    const fromMs = step.targetMs - aheadH * 3_600_000;
    return decide({
      conditions: [
        holds(
          step.whatToDo,
          nowMs >= fromMs,
          nowMs >= fromMs ? 'its day has come' : 'not yet',
          'its day has come',
        ),
      ],
      clear: () => true,
      message: () => ({
        todo: say`${step.whatToDo}: ${dayOf(step.targetMs)}, at the latest ${clock(step.latestMs)}.`,
        byMs: step.latestMs,
        seen: say`The plan puts it on ${dayOf(step.targetMs)}, and nothing is logged yet.`,
        why: say`Not before ${clock(step.earliestMs)}, not after ${clock(step.latestMs)}: the brood’s own calendar sets both.`,
        howSure: say`As sure as the log. If it is done, log it.`,
        facts: [],
      }),
    });
  },
});
