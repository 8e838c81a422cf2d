/** Queens on order and arrived, beside the nucs that wait for them. */
import type { NucSummary } from '../../server/contract/nucs.ts';
import type { Arrival } from '../../server/contract/plan.ts';
import { addDays, localDate } from '../format/calendar.ts';
import { count } from '../format/units.ts';
import { relativeDate } from '../format/when.ts';
import { EmptyState, ResourceView } from '../parts/resource-view.tsx';
import { Sheet, useSheet } from '../parts/sheet.tsx';
import { zoneOfSite } from '../parts/site-zone.ts';
import { arrivals } from '../state/farm.ts';
import { serverMinute } from '../state/live.ts';
import { mayKeep } from '../state/session.ts';
import { ArrivalForm, stateWords } from './arrival-form.tsx';

export function Arrivals({ nucs }: { nucs: readonly NucSummary[] }) {
  const add = useSheet();
  return (
    <section class="card" aria-label="Queens">
      <h2>Queens</h2>
      <ResourceView of={arrivals} what="the deliveries">
        {(data) => (
          <>
            {data.items.length === 0 && (
              <EmptyState title="No delivery is noted yet.">
                <p>Add the queens on order; splits are planned back from the day they come.</p>
              </EmptyState>
            )}
            <Rows of={data.items} />
            <SpareQueens arrivals={data.items} nucs={nucs} />
          </>
        )}
      </ResourceView>
      {mayKeep.value && (
        <button type="button" onClick={add.show}>
          Add a delivery …
        </button>
      )}
      <Sheet of={add} title="A delivery of queens">
        <ArrivalForm done={add.close} />
      </Sheet>
    </section>
  );
}

/** What arrived so long ago has its nucs, and is folded away. */
const earlierAfterDays = 14;

function Rows({ of: all }: { of: readonly Arrival[] }) {
  const today = localDate(serverMinute.value, zoneOfSite(undefined));
  const oldest = addDays(today, -earlierAfterDays);
  const sorted = [...all].sort((a, b) => b.expected.localeCompare(a.expected));
  const isEarlier = ({ state, arrived, expected }: Arrival): boolean =>
    (state === 'arrived' && (arrived ?? expected) < oldest) || (state === 'cancelled' && expected < oldest);
  const earlier = sorted.filter(isEarlier);
  const list = (items: readonly Arrival[]) => (
    <ul class="plain-list">
      {items.map((one) => (
        <ArrivalRow key={one.id} one={one} />
      ))}
    </ul>
  );
  return (
    <>
      {list(sorted.filter((one) => !isEarlier(one)))}
      {earlier.length > 0 && (
        <details>
          <summary>{count(earlier.length, 'earlier delivery', 'earlier deliveries')}</summary>
          {list(earlier)}
        </details>
      )}
    </>
  );
}

/** Queens that live and have no nuc; nucs that will want one. */
function SpareQueens({ arrivals: all, nucs }: { arrivals: readonly Arrival[]; nucs: readonly NucSummary[] }) {
  const open = all.filter((one) => one.state !== 'cancelled');
  const spare = open.reduce((sum, one) => sum + Math.max(0, one.queens - one.dead - one.assigned), 0);
  const free = nucs.filter((one) => one.introductionId === null).length;
  const words = [
    ...(spare > 0 ? [`${count(spare, 'queen')} without a nuc`] : []),
    ...(free > 0 ? [`${count(free, 'nuc')} without an introduction`] : []),
  ];
  return words.length > 0 ? <p>{words.join('; ')}.</p> : null;
}

function ArrivalRow({ one }: { one: Arrival }) {
  const change = useSheet();
  const today = localDate(serverMinute.value, zoneOfSite(undefined));
  const when = one.state === 'arrived' ? (one.arrived ?? one.expected) : one.expected;
  const living = one.queens - one.dead;
  return (
    <li class="arrival">
      <p>
        <b>
          <bdi>{one.name}</bdi>
        </b>{' '}
        <span class="soft">
          <bdi>{one.source}</bdi>
        </span>
      </p>
      <p>
        {stateWords[one.state]}, <b>{relativeDate(when, today)}</b>: {count(one.queens, 'queen')}
        {one.dead > 0 && `, ${String(one.dead)} dead`}, {count(one.assigned, 'nuc')}
        {living < one.assigned && <b class="fault">, {one.assigned - living} too few</b>}
      </p>
      {mayKeep.value && (
        <button type="button" onClick={change.show}>
          Move or change …<span class="hidden-words"> {one.name}</span>
        </button>
      )}
      <Sheet of={change} title={one.name}>
        <ArrivalForm arrival={one} done={change.close} />
      </Sheet>
    </li>
  );
}
