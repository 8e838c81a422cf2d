/** Work by day and site, as it is also printed. */
import type { PlanDto } from '../../server/http/contract/plan.ts';
import { localDate } from '../format/calendar.ts';
import { relativeDate } from '../format/when.ts';
import { hashFor } from '../route.ts';
import { serverMinute } from '../state/live.ts';
import { Empty, capital } from '../parts/shown.tsx';
import { sameWork, tripsOf } from '../parts/trips.ts';
import type { Trip } from '../parts/trips.ts';
import { zoneOfSite } from '../parts/site-zone.ts';

export function WorkSheet({ plan }: { plan: PlanDto }) {
  const today = localDate(serverMinute.value, zoneOfSite(undefined));
  const trips = tripsOf(plan, today);
  return (
    <section class="card" aria-label="Work by day and site">
      <h2>Work by day and site</h2>
      {trips.length === 0 && <Empty title="Nothing is planned in the next weeks." />}
      <ol class="sheet-days">
        {trips.map((trip) => (
          <Day key={`${trip.day.date} ${trip.day.siteId}`} trip={trip} today={today} />
        ))}
      </ol>
      <p class="row-acts">
        <button
          type="button"
          onClick={() => {
            print();
          }}
        >
          Print the work sheet
        </button>
      </p>
    </section>
  );
}

function Day({ trip, today }: { trip: Trip; today: string }) {
  const { day, steps, when } = trip;
  return (
    <li class={when}>
      <h3>
        {capital(relativeDate(day.date, today))} <span class="soft">·</span> <bdi>{day.siteName}</bdi>
        {when === 'overdue' && <span class="fault"> overdue</span>}
      </h3>
      <ul class="tick-boxes">
        {sameWork(steps).map((group) => (
          <li key={group[0]?.id}>
            <b>{group[0]?.label ?? group[0]?.whatToDo}</b>:{' '}
            {group.map((step, i) => (
              <>
                {i > 0 && ', '}
                <a key={step.id} class="inline" href={hashFor('nucs', step.nucId)}>
                  <bdi>{step.nucName}</bdi>
                </a>
              </>
            ))}
          </li>
        ))}
      </ul>
      {day.bring.length > 0 && <p class="soft">Bring {day.bring.join(', ')}.</p>}
      {day.clashes.map((clash) => (
        <p key={clash} class="clash">
          <b>Clash.</b> {clash}
        </p>
      ))}
    </li>
  );
}
