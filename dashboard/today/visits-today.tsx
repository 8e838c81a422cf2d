/** Visits of today by site: a line a nuc with its button, and what to bring for all of the site. */
import type { AlertDto } from '../../server/contract/alerts.ts';
import type { PlanDto } from '../../server/contract/plan.ts';
import { localDate } from '../format/calendar.ts';
import { notYet } from '../format/sentences.ts';
import { dateInWords, nearDay } from '../format/when.ts';
import { hashFor } from '../route.ts';
import { nucs } from '../state/farm.ts';
import { factForStep } from '../visit/expected.ts';
import { capital } from '../parts/resource-view.tsx';
import { zoneOfSite } from '../parts/site-zone.ts';
import type { NucVisit, SiteVisit } from './visits-of-today.ts';
import { overdueSince, stepsInWords, visitsOfToday } from './visits-of-today.ts';

interface VisitsProps {
  readonly plan: PlanDto;
  readonly urgent: readonly AlertDto[];
  readonly today: string;
}

export function VisitsToday({ plan, urgent, today }: VisitsProps) {
  const sites = visitsOfToday(plan, urgent, today);
  return (
    <section class="visits" aria-label="Visits today">
      <h2>Visits today</h2>
      {sites.length === 0 && <p class="soft">None.</p>}
      {sites.map((site) => (
        <OneSite key={site.siteId} site={site} today={today} />
      ))}
    </section>
  );
}

function OneSite({ site, today }: { site: SiteVisit; today: string }) {
  return (
    <article class="site-visit">
      <h3>
        <bdi>{site.siteName}</bdi>
      </h3>
      {site.nucs.length > 0 && (
        <ul class="lines">
          {site.nucs.map((nuc) => (
            <NucLine key={nuc.nucId} nuc={nuc} today={today} siteId={site.siteId} />
          ))}
        </ul>
      )}
      {site.bring.length > 0 && (
        <p class="bring">
          <b>Bring</b> {site.bring.join(', ')}
          {site.help.length > 0 && (
            <>
              {' '}
              (also for <bdi>{site.help.join(', ')}</bdi>)
            </>
          )}
          .
        </p>
      )}
      {site.clashes.map((clash) => (
        <p key={clash} class="clash">
          {clash}
        </p>
      ))}
    </article>
  );
}

const dayOf = (nucId: string): number | null =>
  nucs.snapshot.value.data?.items.find(({ hive }) => hive.id === nucId)?.day ?? null;

function NucLine({ nuc, today, siteId }: { nuc: NucVisit; today: string; siteId: string }) {
  const { nucId, nucName, steps, blocked } = nuc;
  const first = steps[0];
  const day = dayOf(nucId);
  return (
    <li class="line-row">
      <div>
        <p class="line-who">
          <a href={hashFor('nucs', nucId)}>
            <bdi>{nucName}</bdi>
          </a>{' '}
          <span class="soft">
            {[day === null ? '' : `day ${String(Math.floor(day))}`, untilWords(nuc, today, siteId)]
              .filter(Boolean)
              .join(' · ')}
          </span>
        </p>
        {first && <p class="line-what">{stepsInWords(steps)}</p>}
        {blocked.map((step) => (
          <p key={step.id} class="soft">
            {capital(stepsInWords([step]))} ({notYet(step.blockedBy ?? '')})
          </p>
        ))}
      </div>
      {first && (
        <a class="button main" href={hashFor('log', undefined, { nuc: nucId, kind: factForStep(first) })}>
          Log
          <span class="hidden-words">
            {' '}
            {nucName}: {stepsInWords(steps)}
          </span>
        </a>
      )}
    </li>
  );
}

const unbroken = (words: string): string => words.replaceAll(' ', '\u00a0');

/** `overdue since Thu 26 Nov`, or by when the first of it has to be done. */
function untilWords({ steps }: NucVisit, today: string, siteId: string): string {
  const dayOf = (iso: string): string => localDate(Date.parse(iso), zoneOfSite(siteId));
  const overdue = overdueSince(steps, today, dayOf);
  if (overdue !== undefined) return `overdue since ${unbroken(dateInWords(overdue))}`;
  const latest = steps.map((step) => dayOf(step.latest)).sort()[0];
  if (latest === undefined) return '';
  return latest <= today
    ? 'today at the latest'
    : `until ${unbroken(nearDay(latest, today) ?? dateInWords(latest))}`;
}
