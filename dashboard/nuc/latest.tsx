/** The newest reading of each place, with its age. */
import type { Place } from '../../server/contract/common.ts';
import type { NucDetail } from '../../server/contract/nucs.ts';
import { age, dayAndTime } from '../format/when.ts';
import { newest } from '../format/units.ts';
import { hashFor } from '../route.ts';
import { serverNow } from '../state/live.ts';
import { display } from '../state/session.ts';
import { placeWords } from '../words/labels.ts';
import { EmptyState } from '../parts/resource-view.tsx';

export function Latest({ one, zone }: { one: NucDetail; zone: string }) {
  const entries = Object.entries(one.latest) as [Place, NonNullable<NucDetail['latest'][Place]>][];
  const now = serverNow.value;
  return (
    <section class="card" aria-label="Newest readings">
      <h2>Newest readings</h2>
      {entries.length === 0 ? (
        <EmptyState title="No sensor stands here yet.">
          <p>
            <a href={hashFor('sensors')}>Assign one on the Sensors page.</a>
          </p>
        </EmptyState>
      ) : (
        <dl class="latest">
          {entries.map(([place, latest]) => (
            <div key={place} class={latest.stale ? 'stale' : ''}>
              <dt>{placeWords[place]}</dt>
              <dd>
                <b>{newest(latest, display.value)}</b>
                <span class="soft">
                  {age(now - Date.parse(latest.time))} ago
                  {latest.stale && `, silent since ${dayAndTime(Date.parse(latest.time), zone, now)}`}
                  {latest.suspect && !latest.impossible && ', suspect'}
                </span>
              </dd>
            </div>
          ))}
        </dl>
      )}
    </section>
  );
}
