/** Where a nuc has no introduction under way: how it starts. */
import { useState } from 'preact/hooks';
import type { NucDetail } from '../../server/contract/nucs.ts';
import type { IntroductionMethod, StartingPoint } from '../api/facts.ts';
import { call, newId } from '../api/client.ts';
import { isoAt, localDate } from '../format/calendar.ts';
import { filled } from '../format/typed.ts';
import { arrivals, nucsChanged } from '../state/farm.ts';
import { useResource } from '../state/resource.ts';
import { serverNow } from '../state/live.ts';
import { deliveryWords, methodWords, startingPointWords } from '../words/labels.ts';
import { Choice, Select, Text, optionsOf } from '../parts/fields.tsx';
import { Form, Submit, useForm } from '../parts/form.tsx';
import { zoneOfSite } from '../parts/site-zone.ts';

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
  const deliveries = (useResource(arrivals).data?.items ?? []).filter((each) => each.state !== 'cancelled');
  const form = useForm(
    () => ({
      startingPoint: one.setup?.next ?? ('planned-split' as StartingPoint),
      method: 'candy-cage' as IntroductionMethod,
      arrivalId: '',
      day: localDate(serverNow.peek(), zone),
    }),
    async ({ startingPoint, method, arrivalId, day }) => {
      await call('openIntroduction', {
        params: { id: one.hive.id },
        body: {
          id,
          startingPoint,
          method,
          ...filled({ arrivalId }),
          ...(startingPoint === 'planned-split' ? { plannedSplit: isoAt(day, '12:00', zone) } : {}),
        },
      });
      await nucsChanged(one.hive.id);
    },
  );
  const { values, field } = form;
  return (
    <section class="card" aria-label="Open an introduction">
      <h2>Open an introduction</h2>
      <p>
        {one.introductionId === null && 'No queen is being introduced here. '}Say where this colony stands,
        and the plan follows from it.
      </p>
      <Form of={form}>
        <Choice label="It starts as" {...field('startingPoint')} options={optionsOf(startingPointWords)} />
        {deliveries.length > 0 && (
          <Select
            label="Its queen comes with"
            {...field('arrivalId')}
            options={[
              { value: '', words: 'no delivery' },
              ...deliveries.map((each) => ({
                value: each.id,
                words: deliveryWords(each),
              })),
            ]}
          />
        )}
        <Choice label="The queen goes in by" {...field('method')} options={optionsOf(methodWords)} />
        {values.startingPoint === 'planned-split' && (
          <Text type="date" label="Day of the split" {...field('day')} />
        )}
        <Submit of={form}>Open it</Submit>
      </Form>
    </section>
  );
}
