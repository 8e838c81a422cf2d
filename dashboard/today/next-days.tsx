/** The days after today, a line a day. */
import type { PlanDto } from '../../server/contract/plan.ts';
import { dateInWords } from '../format/when.ts';
import { hashFor } from '../route.ts';
import { daysAhead, stepsInWords } from './visits-of-today.ts';

/** The plan shows the rest. */
const mostDays = 2;

export function NextDays({ plan, today }: { plan: PlanDto; today: string }) {
  const days = daysAhead(plan, today).slice(0, mostDays);
  return (
    <section aria-label="Next days">
      <h2>Next days</h2>
      {days.length === 0 && <p class="soft">No visit in the next week.</p>}
      <ul class="lines">
        {days.map(({ date, sites }) => (
          <li key={date} class="day-line">
            <b>{dateInWords(date)}</b>
            {sites.map(({ siteName, nucs, clashes }) => (
              <p key={siteName}>
                {nucs.map(({ nucId, nucName, steps, blocked }) => (
                  <span key={nucId} class="part">
                    <bdi>{nucName}</bdi> {stepsInWords([...steps, ...blocked]).toLocaleLowerCase()}
                  </span>
                ))}
                <span class="soft">
                  {' '}
                  <bdi>{siteName}</bdi>
                </span>
                {clashes.map((clash) => (
                  <span key={clash} class="fault">
                    {' '}
                    {clash}
                  </span>
                ))}
              </p>
            ))}
          </li>
        ))}
      </ul>
      <p>
        <a class="tall" href={hashFor('plan')}>
          The whole plan
        </a>
      </p>
    </section>
  );
}
