/** A visit to a hive outside any introduction: a parent, a full colony, a nuc between two queens. */
import { useState } from 'preact/hooks';
import type { Hive } from '../../server/contract/places.ts';
import { call, newId } from '../api/client.ts';
import { filled } from '../format/typed.ts';
import { dayAndTime } from '../format/when.ts';
import { ActionButton } from '../parts/action-button.tsx';
import { Caution } from '../parts/caution.tsx';
import { Choice, LongText, optionsOf } from '../parts/fields.tsx';
import { BigSubmit, Form, useForm } from '../parts/form.tsx';
import { zoneOfSite } from '../parts/site-zone.ts';
import { serverMinute } from '../state/live.ts';
import { resourceFamily, useResource } from '../state/resource.ts';
import { When, happenedAt, justNow } from './when.tsx';

const kindWords = {
  'looked-in': 'looked in',
  fed: 'fed',
  'frames-taken': 'frames taken out',
  'frames-given': 'frames put in',
  moved: 'moved or taken off its scale',
  other: 'something else',
} as const;
type Kind = keyof typeof kindWords;

const visitsOf = resourceFamily((id) => call('listHiveVisits', { params: { id } }), {
  changedBy: (change, id) => change.type === 'nuc' && change.id === id,
});

export function HiveVisit({ hive }: { hive: Hive }) {
  const zone = zoneOfSite(hive.siteId);
  const [id, setId] = useState(newId);
  const form = useForm(
    () => ({ ...justNow, kind: '' as Kind | '', note: '' }),
    async ({ kind, note, ...when }) => {
      if (kind === '') throw new Error('Say what was done.');
      const at = when.earlier ? { happenedAt: new Date(happenedAt(when, zone)).toISOString() } : {};
      await call('logHiveVisit', {
        params: { id: hive.id },
        body: { id, kind, ...at, ...filled({ note }) },
      });
      setId(newId());
      await visitsOf(hive.id).reload();
    },
    { resets: true },
  );
  return (
    <>
      <Form of={form} class="fact-form">
        <section class="act-section" aria-label="Visit">
          <h2>What was done?</h2>
          <Choice<Kind | ''> label="It was" {...form.field('kind')} options={optionsOf(kindWords)} />
          <details>
            <summary>Take care</summary>
            <Caution about="stings" />
            <Caution about="lifting" />
          </details>
        </section>
        <When form={form} zone={zone} />
        <LongText label="Note" {...form.field('note')} rows={2} />
        <BigSubmit of={form}>Keep it</BigSubmit>
      </Form>
      <Visits hive={hive} zone={zone} />
    </>
  );
}

const shown = 5;

function Visits({ hive, zone }: { hive: Hive; zone: string }) {
  const visits = (useResource(visitsOf(hive.id)).data?.items ?? []).filter(({ withdrawn }) => !withdrawn);
  if (visits.length === 0) return null;
  return (
    <section class="card" aria-label="Last visits">
      <h2>Last visits</h2>
      <ul class="plain-list">
        {visits.slice(0, shown).map(({ id, kind, happenedAt, note, by }) => (
          <li key={id} class="row">
            <span>
              {dayAndTime(Date.parse(happenedAt), zone, serverMinute.value)}: <b>{kindWords[kind]}</b>
              {by !== undefined && ` by ${by}`}
              {note !== undefined && `, ${note}`}
            </span>
            <ActionButton
              run={async () => {
                await call('withdrawHiveVisit', { params: { id: hive.id, visitId: id } });
                await visitsOf(hive.id).reload();
              }}
            >
              Undo<span class="hidden-words">: {kindWords[kind]}</span>
            </ActionButton>
          </li>
        ))}
      </ul>
    </section>
  );
}
