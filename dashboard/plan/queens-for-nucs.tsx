/** Each delivery with the nucs that wait for it, in the order in which they are served, and why. */
import type { NucForQueen, QueensForNucs as Delivery } from '../../server/contract/plan.ts';
import { localDate } from '../format/calendar.ts';
import { count } from '../format/units.ts';
import { relativeDate } from '../format/when.ts';
import { ResourceView } from '../parts/resource-view.tsx';
import { Sheet, useSheet } from '../parts/sheet.tsx';
import { zoneOfSite } from '../parts/site-zone.ts';
import { hashFor } from '../route.ts';
import { queens } from '../state/farm.ts';
import { serverMinute } from '../state/live.ts';
import { mayKeep } from '../state/session.ts';
import { ChangeSplit } from './change-split.tsx';
import { Choices } from './late-queen.tsx';

export function QueensForNucs() {
  const today = localDate(serverMinute.value, zoneOfSite(undefined));
  return (
    <ResourceView of={queens} what="which nuc gets which queen">
      {({ items }) =>
        items.length > 0 && (
          <section class="card" aria-label="Which nuc gets which queen">
            <h2>Which nuc gets which queen</h2>
            {items.map((one) => (
              <OneDelivery key={one.arrivalId ?? ''} one={one} today={today} />
            ))}
          </section>
        )
      }
    </ResourceView>
  );
}

function OneDelivery({ one, today }: { one: Delivery; today: string }) {
  return (
    <div>
      <h3>
        <bdi>{one.name}</bdi>
        {one.comesOn !== null &&
          `, ${relativeDate(one.comesOn, today)}: ${count(one.living, 'queen')} to hang`}
      </h3>
      {one.advice.map((words) => (
        <p key={words} class="clash">
          {words}
        </p>
      ))}
      {one.nucs.length > 0 && (
        <details>
          <summary>
            {count(one.nucs.length, 'nuc')} in order<span class="hidden-words"> for {one.name}</span>
          </summary>
          <ol class="plain-list">
            {one.nucs.map((nuc) => (
              <NucRow key={nuc.nucId} nuc={nuc} today={today} />
            ))}
          </ol>
        </details>
      )}
    </div>
  );
}

function NucRow({ nuc, today }: { nuc: NucForQueen; today: string }) {
  const change = useSheet();
  const pressed = nuc.late || (nuc.order === null && nuc.splitMade);
  return (
    <li class="arrival">
      <p>
        {nuc.order !== null && <b>{nuc.order}. </b>}
        <a href={hashFor('nucs', nuc.nucId)}>
          <bdi>{nuc.nucName}</bdi>
        </a>{' '}
        <span class="soft">
          <bdi>{nuc.siteName}</bdi>
        </span>
        :{' '}
        {nuc.hangOn === null ? <b class="fault">goes without</b> : `hang ${relativeDate(nuc.hangOn, today)}`};{' '}
        {nuc.why}. {whenSplit(nuc, today)}
        {nuc.waitsUntil !== null && ` It can wait until ${relativeDate(nuc.waitsUntil, today)}.`}
      </p>
      {pressed && <Choices of={nuc} today={today} />}
      {mayKeep.value && (
        <button type="button" onClick={change.show}>
          {nuc.splitMade ? 'Another delivery …' : 'Move the split …'}
          <span class="hidden-words"> {nuc.nucName}</span>
        </button>
      )}
      <Sheet of={change} title={nuc.nucName}>
        <ChangeSplit nuc={nuc} done={change.close} />
      </Sheet>
    </li>
  );
}

function whenSplit({ splitMade, splitOn, splitFollows }: NucForQueen, today: string): string {
  if (splitOn === null) return '';
  if (splitMade) return `Split ${relativeDate(splitOn, today)}.`;
  const how = splitFollows ? 'moves with the delivery' : 'on a day of its own';
  return `Split planned for ${relativeDate(splitOn, today)}, ${how}.`;
}
