/** A delivery of queens: new, or changed; the plans of its nucs follow. */
import { useState } from 'preact/hooks';
import type { Arrival } from '../../server/contract/plan.ts';
import { call, newId } from '../api/client.ts';
import { addDays, localDate } from '../format/calendar.ts';
import { filled } from '../format/typed.ts';
import { Caution } from '../parts/caution.tsx';
import { Choice, LongText, Stepper, Text, optionsOf } from '../parts/fields.tsx';
import { Form, Submit, useForm } from '../parts/form.tsx';
import { zoneOfSite } from '../parts/site-zone.ts';
import { nucsChanged } from '../state/farm.ts';
import { serverNow } from '../state/live.ts';
import { WhatFollows } from './what-follows.tsx';

export const stateWords: Readonly<Record<Arrival['state'], string>> = {
  ordered: 'on order',
  delayed: 'delayed',
  arrived: 'arrived',
  cancelled: 'cancelled',
};
const daysAhead = 14;

interface ArrivalFormProps {
  readonly arrival?: Arrival;
  readonly done: () => void;
}

const startOf = (arrival: Arrival | undefined, today: string) => ({
  name: arrival?.name ?? '',
  source: arrival?.source ?? '',
  expected: arrival?.expected ?? addDays(today, daysAhead),
  arrived: arrival?.arrived ?? today,
  queens: arrival?.queens ?? 6,
  dead: arrival?.dead ?? 0,
  state: arrival?.state ?? 'ordered',
  note: arrival?.note ?? '',
});

export function ArrivalForm({ arrival, done }: ArrivalFormProps) {
  const [id] = useState(() => arrival?.id ?? newId());
  const form = useForm(
    () => startOf(arrival, localDate(serverNow.peek(), zoneOfSite(undefined))),
    async ({ name, source, arrived, note, ...rest }) => {
      const body = {
        ...rest,
        name: name.trim(),
        source: source.trim(),
        ...filled({ note }),
        ...(rest.state === 'arrived' ? { arrived } : {}),
      };
      if (arrival) await call('changeArrival', { params: { id }, body });
      else await call('addArrival', { body: { ...body, id } });
      await nucsChanged();
      done();
    },
  );
  const { values, field } = form;
  const { state, expected } = values;
  return (
    <Form of={form}>
      <Text label="What you call it" {...field('name')} hint="such as June delivery" />
      <Text label="Breeder or line" {...field('source')} />
      <Text type="date" label="Expected on" {...field('expected')} />
      {arrival && state !== 'arrived' && state !== 'cancelled' && (
        <WhatFollows arrival={arrival} expected={expected} />
      )}
      <Stepper label="Queens" {...field('queens')} least={1} most={500} />
      <Choice label="It is" {...field('state')} options={optionsOf(stateWords)} />
      {state === 'arrived' && (
        <>
          <Text type="date" label="Arrived on" {...field('arrived')} />
          <Stepper label="Dead on arrival" {...field('dead')} most={values.queens} />
        </>
      )}
      <LongText label="Note" {...field('note')} />
      <Caution about="imports" />
      <Submit of={form} disabled={values.name.trim() === '' || expected === ''}>
        {arrival ? 'Change it; plans follow' : 'Add it'}
      </Submit>
    </Form>
  );
}
