/** Where a nuc has no introduction under way: how it starts. */
import { useState } from 'preact/hooks';
import type { NucDetail } from '../../server/contract/nucs.ts';
import type { IntroductionMethod, StartingPoint } from '../api/facts.ts';
import { call } from '../api/client.ts';
import { instantAt, localDate } from '../format/calendar.ts';
import { dateInWords } from '../format/when.ts';
import { arrivals, nuc, nucs, queens } from '../state/farm.ts';
import { useResource } from '../state/resource.ts';
import { serverNow } from '../state/live.ts';
import { newId } from '../visit/new-id.ts';
import { methodWords, startingPointWords } from '../words/labels.ts';
import { Act } from './act.tsx';
import { Choice, Pick, Text } from './fields.tsx';
import { zoneOfSite } from './site-zone.ts';

const optionsOf = (words: Readonly<Record<string, string>>) =>
  Object.entries(words).map(([value, text]) => ({ value, words: text }));

/** After one has ended: folded away, for most nucs are done with it. */
export function NextIntroduction({ one }: { one: NucDetail }) {
  return (
    <details>
      <summary>Introduce another queen here</summary>
      <OpenIntroduction one={one} />
    </details>
  );
}

export function OpenIntroduction({ one }: { one: NucDetail }) {
  const zone = zoneOfSite(one.hive.siteId);
  const [id] = useState(newId);
  const [start, setStart] = useState<StartingPoint>(one.setup?.next ?? 'planned-split');
  const [arrivalId, setArrivalId] = useState('');
  const deliveries = (useResource(arrivals).data?.items ?? []).filter((each) => each.state !== 'cancelled');
  const [method, setMethod] = useState<IntroductionMethod>('candy-cage');
  const [day, setDay] = useState(() => localDate(serverNow.peek(), zone));
  const open = async (): Promise<void> => {
    await call('openIntroduction', {
      params: { id: one.hive.id },
      body: {
        id,
        startingPoint: start,
        method,
        ...(arrivalId === '' ? {} : { arrivalId }),
        ...(start === 'planned-split'
          ? { plannedSplit: new Date(instantAt(day, '12:00', zone)).toISOString() }
          : {}),
      },
    });
    await Promise.all([nuc(one.hive.id).reload(), nucs.reload(), queens.reload()]);
  };
  return (
    <section class="card" aria-label="Open an introduction">
      <h2>Open an introduction</h2>
      <p>
        {one.introductionId === null && 'No queen is being introduced here. '}Say where this colony stands,
        and the plan follows from it.
      </p>
      <Choice
        label="It starts as"
        value={start}
        onValue={(value) => {
          setStart(value as StartingPoint);
        }}
        options={optionsOf(startingPointWords)}
      />
      {deliveries.length > 0 && (
        <Pick
          label="Its queen comes with"
          value={arrivalId}
          onValue={setArrivalId}
          options={[
            { value: '', words: 'no delivery' },
            ...deliveries.map((each) => ({
              value: each.id,
              words: `${each.name}, ${dateInWords(each.arrived ?? each.expected)}`,
            })),
          ]}
        />
      )}
      <Choice
        label="The queen goes in by"
        value={method}
        onValue={(value) => {
          setMethod(value as IntroductionMethod);
        }}
        options={optionsOf(methodWords)}
      />
      {start === 'planned-split' && (
        <Text type="date" label="Day of the split" value={day} onValue={setDay} />
      )}
      <Act main run={open}>
        Open it
      </Act>
    </section>
  );
}
