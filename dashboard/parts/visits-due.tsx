/** Visits by day and site: what to do in which nuc, and what to bring. */
import type { PlanStepDto } from '../../server/http/contract/nucs.ts';
import type { PlanDto } from '../../server/http/contract/plan.ts';
import { localDate } from '../format/calendar.ts';
import { relativeDate } from '../format/when.ts';
import { hashFor } from '../route.ts';
import { factForStep } from '../visit/expected.ts';
import { Empty, capital } from './shown.tsx';
import { zoneOfSite } from './site-zone.ts';
import type { Trip } from './trips.ts';
import { sameWork, tripsOf } from './trips.ts';

const headings = { overdue: 'Overdue', today: 'Today', later: 'Next' } as const;

export function VisitsDue({ plan, today }: { plan: PlanDto; today: string }) {
  const trips = tripsOf(plan, today);
  if (trips.length === 0) {
    return (
      <section aria-label="Visits">
        <h2>Visits</h2>
        <Empty title="No visit is due in the next days." />
      </section>
    );
  }
  return (
    <section aria-label="Visits">
      <h2>Visits</h2>
      {trips.map((trip) => (
        <TripCard key={`${trip.day.date} ${trip.day.siteId}`} trip={trip} today={today} />
      ))}
    </section>
  );
}

function TripCard({ trip, today }: { trip: Trip; today: string }) {
  const { day, steps, when } = trip;
  return (
    <article class={`trip ${when}`}>
      <h3>
        <span class="trip-when">
          {when === 'overdue'
            ? `${headings.overdue} since ${relativeDate(day.date, today)}`
            : capital(relativeDate(day.date, today))}
        </span>
        <span class="soft"> · </span>
        <bdi>{day.siteName}</bdi>
      </h3>
      <ul class="steps">
        {sameWork(steps).map((group) => (
          <StepGroup key={group[0]?.id} group={group} today={today} />
        ))}
      </ul>
      {day.bring.length > 0 && (
        <p class="bring">
          <b>Bring</b> {day.bring.join(', ')}.
        </p>
      )}
      {day.clashes.map((clash) => (
        <p key={clash} class="clash">
          <b>Clash.</b> {clash}
        </p>
      ))}
    </article>
  );
}

function StepGroup({ group, today }: { group: readonly PlanStepDto[]; today: string }) {
  const first = group[0];
  if (!first) return null;
  const latest = localDate(Date.parse(first.latest), zoneOfSite(first.siteId));
  return (
    <li>
      <p>
        {first.label !== undefined && <b>{first.label}. </b>}
        {first.whatToDo}
        <span class="soft"> Latest {relativeDate(latest, today)}.</span>
      </p>
      <ul class="nuc-links">
        {group.map((step) => (
          <li key={step.id}>
            <a
              class="log-link"
              href={hashFor('log', undefined, { nuc: step.nucId, kind: factForStep(step.kind) })}
            >
              <bdi>{step.nucName}</bdi>
              <span class="log-word">log</span>
            </a>
          </li>
        ))}
      </ul>
      {first.why.length > 0 && (
        <details>
          <summary>Why</summary>
          {first.why.map((why) => (
            <p key={why}>{why}</p>
          ))}
        </details>
      )}
    </li>
  );
}
