/** What is to be done at this nuc next, with its button. */
import type { NucDetail, PlanStepDto } from '../../server/contract/nucs.ts';
import { localDate } from '../format/calendar.ts';
import { notYet } from '../format/sentences.ts';
import { dateInWords, nearDay } from '../format/when.ts';
import { hashFor } from '../route.ts';
import { serverMinute } from '../state/live.ts';
import { factForStep } from '../visit/expected.ts';
import { capital } from '../parts/resource-view.tsx';
import { queenLostWords } from './queen-lost-words.ts';
import { useGoesWithout } from './spare-queens.tsx';
import { nextSteps, overdueSince, stepsInWords } from '../today/visits-of-today.ts';

export function NextAct({ one, zone }: { one: NucDetail; zone: string }) {
  const isWithout = useGoesWithout(one.hive.id) !== undefined;
  const plan = isWithout ? one.plan.filter(({ kind }) => kind !== 'hang-cage') : one.plan;
  const steps = nextSteps(plan, (at) => localDate(Date.parse(at), zone));
  const [first] = steps;
  const blocked = one.plan.find((step) => step.blockedBy !== undefined && step.state !== 'done');
  const { what, soft } = first
    ? first.offered
      ? offered(steps, one)
      : { what: stepsInWords(steps), soft: byWhen(steps, zone) }
    : { what: one.introductionId === null ? 'Nothing planned' : 'Nothing left to do', soft: '' };
  return (
    <section class="next-act" aria-label="Next">
      <div class="line-row">
        <div>
          <h2 class="line-what">{what}</h2>
          {soft !== '' && <p class="soft">{soft}</p>}
          {blocked && (
            <p class="soft">
              {capital(stepsInWords([blocked]))} ({notYet(blocked.blockedBy ?? '')})
            </p>
          )}
        </div>
        <a
          class="button main"
          href={hashFor('log', undefined, {
            nuc: one.hive.id,
            kind: first?.state === 'due' || first?.state === 'overdue' ? factForStep(first) : undefined,
          })}
        >
          Log<span class="hidden-words"> a visit</span>
        </a>
      </div>
    </section>
  );
}

/** What may be done and nothing waits for has no day. */
const offered = (steps: readonly PlanStepDto[], one: NucDetail) =>
  steps.some(({ kind }) => kind === 'queen-arrives')
    ? { what: queenLostWords(one), soft: 'When she comes, log that she arrived.' }
    : {
        what: stepsInWords(steps),
        soft: isAwaited(steps) ? 'Once she comes.' : 'You may; nothing waits for it.',
      };

const isAwaited = ([first]: readonly PlanStepDto[]): boolean => first?.afterArrivalDays !== undefined;

/** `today, tomorrow at the latest`. */
function byWhen(steps: readonly PlanStepDto[], zone: string): string {
  const today = localDate(serverMinute.value, zone);
  const dayOf = (iso: string): string => localDate(Date.parse(iso), zone);
  const say = (date: string): string => nearDay(date, today) ?? dateInWords(date);
  const target = dayOf(steps[0]?.target ?? '');
  const since = steps.every(({ state }) => state === 'overdue')
    ? overdueSince(steps, today, dayOf)
    : undefined;
  if (since !== undefined) return `overdue since ${say(since)}`;
  // A last day that is over is none: the act is due all the same.
  const latest = steps
    .map((step) => dayOf(step.latest))
    .sort()
    .find((day) => day >= today);
  const isOverdue = steps[0]?.state === 'overdue' && target < today;
  return [
    latest === target ? '' : `${isOverdue ? 'overdue since ' : ''}${say(target)}`,
    latest === undefined ? '' : `${say(latest)} at the latest`,
  ]
    .filter(Boolean)
    .join(', ');
}
