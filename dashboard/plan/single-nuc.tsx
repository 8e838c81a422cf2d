/** One nuc without a batch: planned for a delivery, or from the day of its split. */
import { useState } from 'preact/hooks';
import type { BodyOf } from '../../server/contract/index.ts';
import type { Arrival } from '../../server/contract/plan.ts';
import type { Site } from '../../server/contract/places.ts';
import type { IntroductionMethod, StartingPoint } from '../api/facts.ts';
import { call, newId } from '../api/client.ts';
import { addDays, isoAt, localDate } from '../format/calendar.ts';
import { Choice, Select, Text, optionsOf } from '../parts/fields.tsx';
import { Form, Submit, useForm } from '../parts/form.tsx';
import { hives, nucsChanged } from '../state/farm.ts';
import { serverMinute, serverNow } from '../state/live.ts';
import { useResource } from '../state/resource.ts';
import { deliveryWords, methodWords, startingPointWords } from '../words/labels.ts';
import { Dates, usePreview } from './preview.tsx';

interface SingleNucProps {
  readonly sites: readonly Site[];
  readonly arrivals: readonly Arrival[];
}

const deliveries = (arrivals: readonly Arrival[]): { value: string; words: string }[] => [
  { value: '', words: 'no delivery' },
  ...arrivals
    .filter(({ state }) => state !== 'cancelled')
    .map((one) => ({ value: one.id, words: deliveryWords(one) })),
];

export function SingleNuc({ sites, arrivals }: SingleNucProps) {
  const [ids, setIds] = useState(() => ({ id: newId(), introductionId: newId() }));
  const form = useForm(
    () => ({
      name: '',
      siteId: sites[0]?.id ?? '',
      arrivalId: '',
      splitOn: addDays(localDate(serverNow.peek(), sites[0]?.timeZone ?? 'UTC'), 1),
      startingPoint: 'planned-split' as StartingPoint,
      method: 'candy-cage' as IntroductionMethod,
    }),
    async ({ name, siteId, arrivalId, splitOn, startingPoint, method }) => {
      await call('addHive', { body: { id: ids.id, name: name.trim(), siteId, role: 'nuc' } });
      await call('openIntroduction', {
        params: { id: ids.id },
        body: {
          id: ids.introductionId,
          startingPoint,
          method,
          ...(arrivalId === '' ? {} : { arrivalId }),
          ...(startingPoint === 'planned-split' && arrivalId === ''
            ? { plannedSplit: isoAt(splitOn, '12:00', zone) }
            : {}),
        },
      });
      setIds({ id: newId(), introductionId: newId() });
      await nucsChanged();
    },
    { saved: 'Planned.', resets: true },
  );
  const { values, field } = form;
  const zone = sites.find(({ id }) => id === values.siteId)?.timeZone ?? 'UTC';
  const { arrivalId, splitOn, name, ...rest } = values;
  const body: BodyOf<'previewBatch'> = {
    ...rest,
    name: name.trim() || 'Nuc',
    namePrefix: 'Nuc',
    nucs: 1,
    ...(arrivalId === '' ? { by: 'split', splitOn } : { by: 'arrival', arrivalId }),
  };
  const same = (one: string): boolean => one.toLocaleLowerCase() === name.trim().toLocaleLowerCase();
  // Where the answer was lost half-way, its own box is there already.
  const isTaken = (useResource(hives).data?.items ?? []).some(
    (hive) => hive.id !== ids.id && same(hive.name),
  );
  const ready = values.siteId !== '' && (arrivalId !== '' || splitOn !== '');
  const { preview, problem } = usePreview(ready ? body : undefined);
  return (
    <Form of={form}>
      <Text
        label="Name of the nuc"
        {...field('name')}
        fault={isTaken ? 'There is one of that name: give another.' : undefined}
      />
      <Select
        label="At the site"
        {...field('siteId')}
        options={sites.map((site) => ({ value: site.id, words: site.name }))}
      />
      <Select label="Its queen comes with" {...field('arrivalId')} options={deliveries(arrivals)} />
      {arrivalId === '' && values.startingPoint === 'planned-split' && (
        <Text type="date" label="Day of the split" {...field('splitOn')} />
      )}
      <Choice label="It starts as" {...field('startingPoint')} options={optionsOf(startingPointWords)} />
      <Choice label="The queen goes in by" {...field('method')} options={optionsOf(methodWords)} />
      <div class="batch-dates" aria-live="polite">
        <h3>What follows</h3>
        {problem !== undefined && <p class="fault">{problem}</p>}
        {preview && <Dates preview={preview} today={localDate(serverMinute.value, zone)} />}
        <Submit of={form} disabled={!ready || name.trim() === '' || isTaken}>
          Plan this nuc
        </Submit>
      </div>
    </Form>
  );
}
