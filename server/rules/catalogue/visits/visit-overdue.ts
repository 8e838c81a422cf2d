/** The last moment of a planned step has passed. */
import { holds } from '../../engine/conditions.ts';
import { visitsOf } from '../introduction-stage.ts';
import { clock, hours, say } from '../../../words/phrase.ts';
import { decide, defineRule, limit, notApplicable } from '../../engine/rule.ts';

export const visitOverdue = defineRule({
  id: 'visit-overdue',
  on: 'nuc',
  title: 'Visit overdue',
  about: 'A planned step has passed its latest moment and has not been logged.',
  urgency: 'today',
  holdMin: 0,
  clearHoldMin: 0,
  limits: { graceH: limit(0, [0, 72], 'h', 'How long after the latest moment the alert comes') },
  sources: ['the plan'],
  evaluate({ introduction, plan, nowMs }, { graceH }) {
    // Also of one that is only planned, or whose queen is lost: once it is closed, its plan is empty.
    if (introduction === null) return notApplicable('no introduction is open');
    const step = visitsOf(plan).sort((a, b) => a.latestMs - b.latestMs)[0];
    if (!step) return notApplicable('nothing is planned');
    const overdueH = (nowMs - step.latestMs) / 3_600_000;
    const past = overdueH > graceH;
    return decide({
      conditions: [
        holds(step.whatToDo, past, past ? 'past its latest moment' : 'in time', 'past its latest moment'),
      ],
      clear: () => true,
      message: () => ({
        todo: say`${step.whatToDo} as soon as you can, or log it if it is done. Read the gate’s answer first: it may have changed.`,
        seen: say`It had to be done by ${clock(step.latestMs)}, ${hours(Math.max(1, overdueH))} ago.`,
        why: say`What comes next was reckoned from it: the later dates may no longer hold.`,
        howSure: say`As sure as the log.`,
        facts: [{ name: 'Overdue for', ...hours(overdueH) }],
      }),
    });
  },
});
