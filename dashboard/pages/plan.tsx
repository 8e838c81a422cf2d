/** Queens and nucs side by side; the work that follows from them; batches. */
import { Arrivals } from '../plan/arrivals.tsx';
import { BatchForm } from '../plan/batch-form.tsx';
import { CalendarLink } from '../plan/calendar-link.tsx';
import { NucsWaiting } from '../plan/nucs-waiting.tsx';
import { QueensForNucs } from '../plan/queens-for-nucs.tsx';
import { planAhead } from '../plan/plan-days.ts';
import { Unavailable } from '../plan/unavailable.tsx';
import { WorkSheet } from '../plan/work-sheet.tsx';
import { EmptyState, ResourceView } from '../parts/resource-view.tsx';
import { localDate } from '../format/calendar.ts';
import { dateInWords } from '../format/when.ts';
import { zoneOfSite } from '../parts/site-zone.ts';
import { serverMinute } from '../state/live.ts';
import { hashFor } from '../route.ts';
import { arrivals, nucs, sites } from '../state/farm.ts';
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
      <div class="side-by-side no-print">
        <Arrivals nucs={all} />
        <NucsWaiting nucs={all} />
      </div>
      <div class="no-print">
        <QueensForNucs />
      </div>
      {mayKeep.value && <Batch />}
      <ResourceView of={planAhead} what="the plan">
        {(data) => (
          <>
            <WorkSheet plan={data} />
            <div class="no-print">
              <Unavailable days={data.unavailable} />
            </div>
          </>
        )}
      </ResourceView>
      <div class="no-print">
        <CalendarLink />
      </div>
    </>
  );
}

function Batch() {
  const snapshot = useResource(arrivals).data;
  return (
    <section class="card no-print" aria-label="Plan a batch">
      <h2>Plan a batch</h2>
      <ResourceView of={sites} what="the sites">
        {(data) =>
          data.items.length === 0 ? (
            <EmptyState title="First say where your nucs stand.">
              <p>
                <a href={hashFor('settings')}>Add a site.</a>
              </p>
            </EmptyState>
          ) : (
            snapshot && <BatchForm sites={data.items} arrivals={snapshot.items} />
          )
        }
      </ResourceView>
    </section>
  );
}
