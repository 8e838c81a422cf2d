/** What is to be done at this nuc next, with its button. */
import type { NucDetail } from '../../server/contract/nucs.ts';
import { localDate } from '../format/calendar.ts';
import { dateInWords, nearDay } from '../format/when.ts';
import { hashFor } from '../route.ts';
import { serverMinute } from '../state/live.ts';
import { factForStep } from '../visit/expected.ts';
import { capital } from './resource-view.tsx';
import { nextSteps, stepsInWords } from './visits-of-today.ts';

export function NextAct({ one, zone }: { one: NucDetail; zone: string }) {
  const today = localDate(serverMinute.value, zone);
  const dayOf = (iso: string): string => localDate(Date.parse(iso), zone);
  const say = (date: string): string => nearDay(date, today) ?? dateInWords(date);
  const steps = nextSteps(one.plan, dayOf);
  const first = steps[0];
  // A last day that is over is none: the act is due all the same.
  const latest = steps
    .map((step) => dayOf(step.latest))
    .sort()
    .find((day) => day >= today);
  const blocked = one.plan.find((step) => step.blockedBy !== undefined && step.state !== 'done');
  return (
    <section class="next-act" aria-label="Next">
      <div class="line-row">
        <div>
          {first ? (
            <>
              <h2 class="line-what">{stepsInWords(steps)}</h2>
              <p class="soft">
                {first.state === 'overdue' && dayOf(first.target) < today ? 'overdue since ' : ''}
                {say(dayOf(first.target))}
                {latest !== undefined && `, ${say(latest)} at the latest`}
              </p>
            </>
          ) : (
            <h2 class="line-what">
              {one.introductionId === null ? 'Nothing planned' : 'Nothing left to do'}
            </h2>
          )}
          {blocked && (
            <p class="soft">
              {capital(stepsInWords([blocked]))}: not yet. {blocked.blockedBy}
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
