/** Several nucs at once for one delivery: dates are shown, and follow each change, before anything is made. */
import { useState } from 'preact/hooks';
import type { BodyOf } from '../../server/contract/index.ts';
import type { Arrival, BatchPreview } from '../../server/contract/plan.ts';
import type { Site } from '../../server/contract/places.ts';
import type { IntroductionMethod, StartingPoint } from '../api/facts.ts';
import { call, newId } from '../api/client.ts';
import { addDays, localDate } from '../format/calendar.ts';
import { count } from '../format/units.ts';
import { dateInWords } from '../format/when.ts';
import { ActionButton } from '../parts/action-button.tsx';
import { Choice, Select, Stepper, Text, optionsOf } from '../parts/fields.tsx';
import type { FormState } from '../parts/form.tsx';
import { Form, Submit, useForm } from '../parts/form.tsx';
import { hashFor } from '../route.ts';
import { nucsChanged } from '../state/farm.ts';
import { serverMinute, serverNow } from '../state/live.ts';
import { methodWords, startingPointWords } from '../words/labels.ts';
import { undoBatch } from './undo-batch.ts';
import { Dates, usePreview } from './preview.tsx';

/** Those to come first, the next one before the later ones; then those that have come. */
function withFreeQueens(all: readonly Arrival[]): readonly Arrival[] {
  return all
    .filter((one) => one.state !== 'cancelled' && freeOf(one) > 0)
    .sort(
      (a, b) =>
        Number(a.state === 'arrived') - Number(b.state === 'arrived') || a.expected.localeCompare(b.expected),
    );
}

interface BatchFormProps {
  readonly sites: readonly Site[];
  readonly arrivals: readonly Arrival[];
}

/** How many queens of it have no nuc yet. */
const freeOf = (one: Arrival): number => one.queens - one.dead - one.assigned;

function startOf(first: Arrival | undefined, sites: readonly Site[]) {
  const zone = sites[0]?.timeZone ?? 'UTC';
  return {
    arrivalId: first?.id ?? '',
    siteId: sites[0]?.id ?? '',
    nucs: first ? Math.min(100, freeOf(first)) : 6,
    name: first?.name ?? 'New batch',
    namePrefix: 'Nuc',
    startingPoint: 'planned-split' as StartingPoint,
    method: 'candy-cage' as IntroductionMethod,
    splitOn: addDays(localDate(serverNow.peek(), zone), 1),
  };
}

export function BatchForm({ sites, arrivals: all }: BatchFormProps) {
  const open = withFreeQueens(all);
  const [made, setMade] = useState<readonly string[] | undefined>();
  // Sent again after an answer that was lost, it is the same batch.
  const [id, setId] = useState(newId);
  const form = useForm(
    () => startOf(open[0], sites),
    async () => {
      setMade((await call('createBatch', { body: { ...body, id } })).nucIds);
      setId(newId());
      await nucsChanged();
    },
  );
  const { arrivalId, splitOn, ...rest } = form.values;
  const arrival = all.find((one) => one.id === arrivalId);
  const body: BodyOf<'createBatch'> = {
    ...rest,
    name: rest.name.trim(),
    namePrefix: rest.namePrefix.trim(),
    ...(arrival ? { by: 'arrival', arrivalId } : { by: 'split', splitOn }),
  };
  const ready =
    body.name !== '' &&
    body.namePrefix !== '' &&
    rest.siteId !== '' &&
    (arrival !== undefined || splitOn !== '');
  const { preview, problem } = usePreview(ready ? body : undefined);
  const zone = sites.find((site) => site.id === rest.siteId)?.timeZone ?? 'UTC';
  if (made) {
    return (
      <Made
        nucIds={made}
        another={() => {
          setMade(undefined);
        }}
      />
    );
  }
  return (
    <Form of={form} class="batch">
      <BatchFields
        form={form}
        open={open}
        sites={sites}
        isPlannedBack={arrival !== undefined}
        names={preview?.names}
      />
      <div class="batch-dates" aria-live="polite">
        <h3>What follows</h3>
        {problem !== undefined && <p class="fault">{problem}</p>}
        {preview && <Dates preview={preview} today={localDate(serverMinute.value, zone)} />}
        <Submit of={form} disabled={!preview || !ready}>
          Plan {count(rest.nucs, 'nuc')}
        </Submit>
      </div>
    </Form>
  );
}

interface BatchFieldsProps {
  readonly form: FormState<ReturnType<typeof startOf>>;
  readonly open: readonly Arrival[];
  readonly sites: readonly Site[];
  /** From the day on which the queens come; else from the split. */
  readonly isPlannedBack: boolean;
  readonly names: BatchPreview['names'];
}

/** `Nuc 4 to Nuc 9`. */
const fewOf = (names: readonly string[]): string =>
  names.length > 1 ? `${names[0] ?? ''} to ${names.at(-1) ?? ''}` : (names[0] ?? '');

function BatchFields({ form: { values, field }, open, sites, isPlannedBack, names }: BatchFieldsProps) {
  const prefix = values.namePrefix.trim();
  const chosen = open.find(({ id }) => id === values.arrivalId);
  return (
    <div class="batch-fields">
      <Select
        label="For"
        {...field('arrivalId')}
        options={[
          ...open.map((one) => ({
            value: one.id,
            words: `${dateInWords(one.arrived ?? one.expected)}: ${one.name}`,
          })),
          { value: '', words: 'no delivery: plan from the split' },
        ]}
        hint={chosen && `${count(freeOf(chosen), 'queen')} free`}
      />
      {!isPlannedBack && <Text type="date" label="Split on" {...field('splitOn')} />}
      <Stepper label="How many nucs" {...field('nucs')} least={1} most={100} />
      <Select
        label="Site"
        {...field('siteId')}
        options={sites.map((site) => ({ value: site.id, words: site.name }))}
      />
      <Text label="Name of the batch" {...field('name')} />
      <Text
        label="Nucs are called"
        {...field('namePrefix')}
        hint={names ? fewOf(names) : `${prefix} 1, ${prefix} 2, …`}
      />
      <Choice label="They start as" {...field('startingPoint')} options={optionsOf(startingPointWords)} />
      <Choice label="The queens go in by" {...field('method')} options={optionsOf(methodWords)} />
    </div>
  );
}

function Made({ nucIds, another }: { nucIds: readonly string[]; another: () => void }) {
  return (
    <div class="kept" role="status">
      <h3>{count(nucIds.length, 'nuc')} planned.</h3>
      <p class="kept-next">
        <a class="button main" href={hashFor('nucs')}>
          {nucIds.length === 1 ? 'See its rail' : 'See their rails'}
        </a>
        <button type="button" onClick={another}>
          Plan another batch
        </button>
        <ActionButton
          run={async () => {
            await undoBatch(nucIds);
            another();
          }}
        >
          Undo
        </ActionButton>
      </p>
    </div>
  );
}
