/** For who starts in mid-season: nucs that are under way already. */
import { useState } from 'preact/hooks';
import { count } from '../format/units.ts';
import { EmptyState, ResourceView } from '../parts/resource-view.tsx';
import { hashFor } from '../route.ts';
import { arrivals, nucs, sites } from '../state/farm.ts';
import { useResource } from '../state/resource.ts';
import { TakeOverForm } from '../takeover/take-over-form.tsx';
import { UnsentList } from '../visit/unsent-list.tsx';

export default function TakeOver() {
  const [entered, setEntered] = useState(0);
  const deliveries = useResource(arrivals).data?.items;
  const all = useResource(nucs).data?.items;
  return (
    <div class="log-page">
      <header class="page-head">
        <h1>Nucs already under way</h1>
        <p class="soft">Enter what you know. What you leave out counts as not looked.</p>
      </header>
      {entered > 0 ? (
        <section class="kept" role="status">
          <h2>{count(entered, 'nuc')} entered.</h2>
          <p class="kept-next">
            <a class="button main" href={hashFor('nucs')}>
              {entered === 1 ? 'See its rail' : 'See their rails'}
            </a>
            <button
              type="button"
              onClick={() => {
                setEntered(0);
              }}
            >
              Enter others
            </button>
          </p>
        </section>
      ) : (
        <ResourceView of={sites} what="the sites">
          {({ items }) =>
            items.length === 0 ? (
              <EmptyState title="First say where your nucs stand.">
                <p>
                  <a href={hashFor('settings')}>Add a site.</a>
                </p>
              </EmptyState>
            ) : (
              deliveries &&
              all && (
                <TakeOverForm
                  sites={items}
                  free={all.filter(({ introductionId }) => introductionId === null)}
                  arrivals={deliveries.filter(({ state }) => state !== 'cancelled')}
                  done={setEntered}
                />
              )
            )
          }
        </ResourceView>
      )}
      <UnsentList />
    </div>
  );
}
