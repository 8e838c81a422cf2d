/** Nucs already under way, several at once: which, how they began, what was seen and when. */
import { useState } from 'preact/hooks';
import type { NucSummary } from '../../server/contract/nucs.ts';
import type { Arrival } from '../../server/contract/plan.ts';
import type { Site } from '../../server/contract/places.ts';
import type { IntroductionMethod, StartingPoint } from '../api/facts.ts';
import { call, newId } from '../api/client.ts';
import { addDays, localDate } from '../format/calendar.ts';
import { byName } from '../format/names.ts';
import { filled } from '../format/typed.ts';
import { count } from '../format/units.ts';
import { Checkbox, Choice, Select, Stepper, Text, optionsOf } from '../parts/fields.tsx';
import type { FormState } from '../parts/form.tsx';
import { BigSubmit, Form, useForm } from '../parts/form.tsx';
import { nucsChanged } from '../state/farm.ts';
import { serverNow } from '../state/live.ts';
import { write } from '../visit/outbox.ts';
import { deliveryWords, methodWords, startingPointWords } from '../words/labels.ts';
import type { NewNuc, PastVisit } from './nucs-to-enter.ts';
import { asRemembered, beginningOf, entriesOf, firstAct, pastVisit } from './nucs-to-enter.ts';
import { PastVisits } from './past-visits.tsx';

interface TakeOverProps {
  readonly sites: readonly Site[];
  readonly free: readonly NucSummary[];
  readonly arrivals: readonly Arrival[];
  readonly done: (nucs: number) => void;
}

const mostNew = 60;
/** Ids are made once, so that the same form sent again enters nothing twice. */
const makeNew = (): readonly NewNuc[] =>
  Array.from({ length: mostNew }, () => ({ id: newId(), introductionId: newId(), name: '', isNew: true }));

function startOf(sites: readonly Site[], free: readonly NucSummary[]) {
  const [site] = sites;
  const today = localDate(serverNow.peek(), site?.timeZone ?? 'UTC');
  return {
    siteId: site?.id ?? '',
    newNucs: free.length === 0 ? 1 : 0,
    prefix: 'Nuc',
    first: 1,
    chosen: new Set<string>() as ReadonlySet<string>,
    startingPoint: 'planned-split' as StartingPoint,
    method: 'candy-cage' as IntroductionMethod,
    arrivalId: '',
    visits: [pastVisit(newId(), addDays(today, -7), ['split-made'])] as readonly PastVisit[],
  };
}
type Values = ReturnType<typeof startOf>;

export function TakeOverForm({ sites, free, arrivals, done }: TakeOverProps) {
  const [made] = useState(makeNew);
  const [introductions] = useState(() => new Map(free.map(({ hive }) => [hive.id, newId()])));
  const form = useForm(
    () => startOf(sites, free),
    async (values) => {
      await enter(values, nucsOf(values), arrivals, sites);
      done(nucsOf(values).length);
    },
  );
  const { values, field } = form;
  const site = sites.find(({ id }) => id === values.siteId);
  const here = free.filter(({ hive }) => hive.siteId === values.siteId);
  const nucsOf = ({ chosen, newNucs, prefix, first }: Values): readonly NewNuc[] => [
    ...here
      .filter(({ hive }) => chosen.has(hive.id))
      .map(({ hive }) => ({
        id: hive.id,
        introductionId: introductions.get(hive.id) ?? '',
        name: hive.name,
        isNew: false,
      })),
    ...made.slice(0, newNucs).map((one, i) => ({ ...one, name: `${prefix.trim()} ${String(first + i)}` })),
  ];
  const nucs = nucsOf(values);
  const zone = site?.timeZone ?? 'UTC';
  return (
    <Form of={form} class="fact-form">
      <Which form={form} sites={sites} here={here} />
      <Start form={form} arrivals={arrivals} />
      {nucs.length > 0 && site && (
        <section aria-label="What was done and seen">
          <h2>What was done and seen</h2>
          <PastVisits
            visits={values.visits}
            nucs={asRemembered(nucs, { site, method: values.method, queens: queensOf(values, arrivals) })}
            today={localDate(serverNow.value, zone)}
            onVisits={field('visits').onValue}
          />
        </section>
      )}
      <BigSubmit of={form} disabled={nucs.length === 0 || values.prefix.trim() === ''}>
        Enter {count(nucs.length, 'nuc')}
      </BigSubmit>
    </Form>
  );
}

interface WhichProps {
  readonly form: FormState<Values>;
  readonly sites: readonly Site[];
  readonly here: readonly NucSummary[];
}

function Which({ form: { values, field, set }, sites, here }: WhichProps) {
  const prefix = values.prefix.trim();
  return (
    <section aria-label="Which nucs" class="act-section">
      <h2>Which nucs</h2>
      <Select
        label="Site"
        value={values.siteId}
        onValue={(siteId) => {
          set({ siteId, chosen: new Set() });
        }}
        options={sites.map(({ id, name }) => ({ value: id, words: name }))}
      />
      {[...here]
        .sort((a, b) => byName(a.hive.name, b.hive.name))
        .map(({ hive }) => (
          <Checkbox
            key={hive.id}
            label={hive.name}
            value={values.chosen.has(hive.id)}
            onValue={(wanted) => {
              const chosen = new Set(values.chosen);
              if (wanted) chosen.add(hive.id);
              else chosen.delete(hive.id);
              set({ chosen });
            }}
          />
        ))}
      <Stepper label="New nucs" {...field('newNucs')} most={mostNew} />
      {values.newNucs > 0 && (
        <>
          <Text
            label="Called"
            {...field('prefix')}
            hint={`${prefix} ${String(values.first)}${values.newNucs > 1 ? ', …' : ''}`}
          />
          <Stepper label="Numbers begin with" {...field('first')} least={1} most={9_999} />
        </>
      )}
    </section>
  );
}

function Start({
  form: { values, field, set },
  arrivals,
}: {
  form: FormState<Values>;
  arrivals: readonly Arrival[];
}) {
  return (
    <section aria-label="How they began" class="act-section">
      <h2>How they began</h2>
      <Choice
        label="They started as"
        value={values.startingPoint}
        onValue={(startingPoint) => {
          const [first, ...rest] = values.visits;
          const begun = first && { ...first, draft: { ...first.draft, acts: [firstAct[startingPoint]] } };
          set({ startingPoint, visits: begun ? [begun, ...rest] : rest });
        }}
        options={optionsOf(startingPointWords)}
      />
      <Choice label="The queens go in by" {...field('method')} options={optionsOf(methodWords)} />
      {arrivals.length > 0 && (
        <Select
          label="Queens from"
          {...field('arrivalId')}
          options={[
            { value: '', words: 'no delivery' },
            ...arrivals.map((one) => ({
              value: one.id,
              words: deliveryWords(one),
            })),
          ]}
        />
      )}
    </section>
  );
}

function queensOf({ arrivalId }: Values, arrivals: readonly Arrival[]) {
  const arrival = arrivals.find(({ id }) => id === arrivalId);
  return arrival && { label: arrival.source.trim() || arrival.name, from: arrival.assigned + 1 };
}

/** Places first, then the introductions with their beginnings, then the entries, which wait in the queue until stored. */
async function enter(
  values: Values,
  nucs: readonly NewNuc[],
  arrivals: readonly Arrival[],
  sites: readonly Site[],
): Promise<void> {
  const { siteId, startingPoint, method, arrivalId, visits } = values;
  const site = sites.find(({ id }) => id === siteId);
  if (!site) throw new Error('Say at which site they stand.');
  const nowMs = Math.round(serverNow.peek());
  const remembered = asRemembered(nucs, { site, method, queens: queensOf(values, arrivals) });
  const entries = entriesOf(visits, remembered, site.timeZone, nowMs, newId);
  if (typeof entries === 'string') throw new Error(entries);
  for (const { id, introductionId, name, isNew } of nucs) {
    if (isNew) await call('addHive', { body: { id, name, siteId, role: 'nuc' } });
    const openedAt = new Date(beginningOf(id, entries, nowMs)).toISOString();
    await call('openIntroduction', {
      params: { id },
      body: { id: introductionId, startingPoint, method, openedAt, ...filled({ arrivalId }) },
    });
  }
  await nucsChanged();
  await write(entries);
}
