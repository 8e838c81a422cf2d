/** Deliveries, the work that follows from them, and what is planned seldom, folded. */
import type { ComponentChildren } from 'preact';
import type { Arrival } from '../../server/contract/plan.ts';
import type { Site } from '../../server/contract/places.ts';
import { localDate } from '../format/calendar.ts';
import { dateInWords } from '../format/when.ts';
import { Fold } from '../parts/fold.tsx';
import { EmptyState, ResourceView } from '../parts/resource-view.tsx';
import { zoneOfSite } from '../parts/site-zone.ts';
import { Arrivals } from '../plan/arrivals.tsx';
import { BatchForm } from '../plan/batch-form.tsx';
import { CalendarLink } from '../plan/calendar-link.tsx';
import { NucsWaiting } from '../plan/nucs-waiting.tsx';
import { planAhead } from '../plan/plan-days.ts';
import { QueensForNucs } from '../plan/queens-for-nucs.tsx';
import { SingleNuc } from '../plan/single-nuc.tsx';
import { Unavailable } from '../plan/unavailable.tsx';
import { WorkSheet } from '../plan/work-sheet.tsx';
import { hashFor } from '../route.ts';
import { arrivals, nucs, sites } from '../state/farm.ts';
import { serverMinute } from '../state/live.ts';
import { useResource } from '../state/resource.ts';
import { mayKeep } from '../state/session.ts';

const printedOn = (): string => dateInWords(localDate(serverMinute.value, zoneOfSite(undefined)));

export default function Plan() {
  const all = useResource(nucs).data?.items ?? [];
  return (
    <>
      <header class="page-head">
        <h1>
          Plan<span class="print-only"> of {printedOn()}</span>
        </h1>
      </header>
      <div class="plan-columns">
        <div class="no-print plan-column">
          <Arrivals nucs={all} />
          <QueensForNucs />
        </div>
        <ResourceView of={planAhead} what="the plan">
          {(data) => <WorkSheet plan={data} />}
        </ResourceView>
      </div>
      {mayKeep.value && (
        <>
          <Fold class="fold no-print" title="Plan a batch">
            <WithSites>{(all, deliveries) => <BatchForm sites={all} arrivals={deliveries} />}</WithSites>
          </Fold>
          <Fold class="fold no-print" title="Plan one nuc">
            <WithSites>{(all, deliveries) => <SingleNuc sites={all} arrivals={deliveries} />}</WithSites>
          </Fold>
        </>
      )}
      <Fold class="fold no-print" title="Nucs">
        <NucsWaiting nucs={all} />
      </Fold>
      <Fold class="fold no-print" title="Days you can’t work">
        <ResourceView of={planAhead} what="the plan">
          {(data) => <Unavailable days={data.unavailable} />}
        </ResourceView>
      </Fold>
      <Fold class="fold no-print" title="In your calendar">
        <CalendarLink />
      </Fold>
      <p class="no-print row-acts">
        {mayKeep.value && (
          <a class="button" href={hashFor('takeover')}>
            Nucs already under way
          </a>
        )}
        <a class="button" href={hashFor('labels')}>
          Labels
        </a>
      </p>
    </>
  );
}

interface WithSitesProps {
  readonly children: (sites: readonly Site[], arrivals: readonly Arrival[]) => ComponentChildren;
}

function WithSites({ children }: WithSitesProps) {
  const deliveries = useResource(arrivals).data;
  return (
    <ResourceView of={sites} what="the sites">
      {(data) =>
        data.items.length === 0 ? (
          <EmptyState title="First say where your nucs stand.">
            <p>
              <a href={hashFor('settings')}>Add a site.</a>
            </p>
          </EmptyState>
        ) : (
          deliveries && children(data.items, deliveries.items)
        )
      }
    </ResourceView>
  );
}
