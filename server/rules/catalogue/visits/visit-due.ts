/** A step of the plan has come due. */
import { holds } from '../../engine/conditions.ts';
import { visitsOf } from '../introduction-stage.ts';
import { asSentence, clock, dayOf, say } from '../../../words/phrase.ts';
import { decide, defineRule, limit, notApplicable } from '../../engine/rule.ts';

export const visitDue = defineRule({
  id: 'visit-due',
  on: 'nuc',
  title: 'Visit due',
  about: 'A planned step has reached its day and has not been logged.',
  urgency: 'today',
  holdMin: 0,
  clearHoldMin: 0,
  limits: { aheadH: limit(12, [0, 72], 'h', 'How long before the planned time the alert comes') },
  sources: ['the plan'],
  evaluate({ introduction, plan, nowMs }, { aheadH }) {
    // Also of one that is only planned, or whose queen is lost: once it is closed, its plan is empty.
    if (introduction === null) return notApplicable('no introduction is open');
    const next = visitsOf(plan)[0];
    if (!next) return notApplicable('nothing is planned');
    const due = visitsOf(plan).filter(({ targetMs }) => nowMs >= targetMs - aheadH * 3_600_000);
    // What is overdue is told by itself: what is due tomorrow was not to be done before.
    const overdue = due.filter((step) => step.latestMs < nowMs);
    const told = overdue.length > 0 ? overdue : due;
    const [first = next] = told;
    const names = told.map(({ whatToDo }) => whatToDo).join('; ');
    const latestMs = Math.min(...told.map((step) => step.latestMs), first.latestMs);
    const reason = first.why === undefined ? '' : say`${asSentence(first.why)} `;
    return decide({
      conditions: [
        holds(
          next.whatToDo,
          due.length > 0,
          due.length > 0 ? 'its day has come' : 'not yet',
          'its day has come',
        ),
      ],
      clear: () => true,
      message: () => ({
        todo:
          latestMs >= nowMs
            ? say`${names}: ${dayOf(first.targetMs)}, at the latest ${clock(latestMs)}.`
            : say`${names}: as soon as you can; it was due by ${clock(latestMs)}.`,
        byMs: latestMs,
        seen: say`The plan puts it on ${dayOf(first.targetMs)}, and nothing is logged yet.`,
        why: say`${reason}Not before ${clock(first.earliestMs)}, not after ${clock(first.latestMs)}.`,
        howSure: say`As sure as the log. If it is done, log it.`,
        facts: [],
      }),
    });
  },
});
