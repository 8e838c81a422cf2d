/** Visits by day and site: the next ones with what to do and bring, the later ones in a line each. */
import { Fragment } from 'preact';
import type { PlanStepDto } from '../../server/contract/nucs.ts';
import type { PlanDto } from '../../server/contract/plan.ts';
import { addDays, localDate } from '../format/calendar.ts';
import { dateInWords, relativeDate } from '../format/when.ts';
import { hashFor } from '../route.ts';
import { factForStep } from '../visit/expected.ts';
import { EmptyState, capital } from './resource-view.tsx';
import { zoneOfSite } from './site-zone.ts';
import type { SiteVisit } from './site-visits.ts';
import { groupByTask, siteVisitsOf } from './site-visits.ts';

export function VisitsDue({ plan, today }: { plan: PlanDto; today: string }) {
  const siteVisits = siteVisitsOf(plan, today);
  const soon = siteVisits.filter((siteVisit) => siteVisit.day.date <= addDays(today, 1));
  const later = siteVisits.filter((siteVisit) => !soon.includes(siteVisit));
  return (
    <section class="visits" aria-label="Visits">
      <h2>Visits</h2>
      {soon.length === 0 && (
        <EmptyState
          title={
            later.length === 0 ? 'No visit is due in the next week.' : 'No visit is due today or tomorrow.'
          }
        />
      )}
      {soon.map((siteVisit) => (
        <SiteVisitCard
          key={`${siteVisit.day.date} ${siteVisit.day.siteId}`}
          siteVisit={siteVisit}
          today={today}
        />
      ))}
      {later.length > 0 && <Later siteVisits={later} />}
      <p>
        <a class="tall" href={hashFor('plan')}>
          The whole plan
        </a>
      </p>
    </section>
  );
}

function SiteVisitCard({ siteVisit, today }: { siteVisit: SiteVisit; today: string }) {
  const { day, steps, when } = siteVisit;
  return (
    <article class={`trip ${when}`}>
      <h3>
        <span class="trip-when">
          {when === 'overdue'
            ? `Overdue since ${relativeDate(day.date, today)}`
            : capital(relativeDate(day.date, today))}{' '}
          <span class="soft">·</span>
        </span>{' '}
        <span class="trip-where">
          <bdi>{day.siteName}</bdi>
        </span>
      </h3>
      <ul class="trip-steps">
        {groupByTask(steps).map((group) => (
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
        {first.whatToDo} <span class="soft">Latest {relativeDate(latest, today)}.</span>
      </p>
      <ul class="nuc-links">
        {group.map((step) => (
          <li key={step.id}>
            <a
              class="log-link"
              href={hashFor('log', undefined, { nuc: step.nucId, kind: factForStep(step) })}
            >
              <bdi>{step.nucName}</bdi>
              <span class="log-word">log</span>
            </a>
          </li>
        ))}
      </ul>
    </li>
  );
}

function Later({ siteVisits }: { siteVisits: readonly SiteVisit[] }) {
  return (
    <article class="trip later">
      <h3>The days after</h3>
      <ul class="later-days">
        {siteVisits.map((siteVisit) => (
          <li key={`${siteVisit.day.date} ${siteVisit.day.siteId}`}>
            <b>{dateInWords(siteVisit.day.date)}</b> <bdi>{siteVisit.day.siteName}</bdi>:{' '}
            {groupByTask(siteVisit.steps).map((group, i) => (
              <Fragment key={group[0]?.id}>
                {i > 0 && '; '}
                {group[0]?.label ?? group[0]?.whatToDo} (
                {group.map((step, j) => (
                  <Fragment key={step.id}>
                    {j > 0 && ', '}
                    <bdi>{step.nucName}</bdi>
                  </Fragment>
                ))}
                )
              </Fragment>
            ))}
            {siteVisit.day.clashes.map((clash) => (
              <span key={clash} class="fault">
                {' '}
                {clash}
              </span>
            ))}
          </li>
        ))}
      </ul>
    </article>
  );
}
