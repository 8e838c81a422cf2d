/** A planned split: another day, another delivery, or called off. Dates are shown before anything is stored. */
import type { BodyOf } from '../../server/contract/index.ts';
import type { NucForQueen } from '../../server/contract/plan.ts';
import { call } from '../api/client.ts';
import { localDate } from '../format/calendar.ts';
import { filled } from '../format/typed.ts';
import { Choice, Select, Text, optionsOf } from '../parts/fields.tsx';
import { Form, Submit, useForm } from '../parts/form.tsx';
import { zoneOfSite } from '../parts/site-zone.ts';
import { arrivals, hives, nucsChanged, queens } from '../state/farm.ts';
import { serverMinute } from '../state/live.ts';
import { useResource } from '../state/resource.ts';
import { deliveryWords } from '../words/labels.ts';
import { Dates, usePreview } from './preview.tsx';

interface ChangeSplitProps {
  readonly nuc: NucForQueen;
  readonly done: () => void;
}

export function ChangeSplit({ nuc, done }: ChangeSplitProps) {
  const deliveries = (useResource(arrivals).data?.items ?? []).filter((one) => one.state !== 'cancelled');
  const siteId = useResource(hives).data?.items.find((hive) => hive.id === nuc.nucId)?.siteId;
  const now =
    useResource(queens).data?.items.find((one) => one.nucs.some(({ nucId }) => nucId === nuc.nucId))
      ?.arrivalId ?? '';
  const today = localDate(serverMinute.value, zoneOfSite(siteId));
  const change = async (to: BodyOf<'changeIntroduction'>): Promise<void> => {
    await call('changeIntroduction', { params: { id: nuc.introductionId }, body: to });
    await nucsChanged(nuc.nucId);
    done();
  };
  const form = useForm(
    {
      arrivalId: undefined as string | undefined,
      made: nuc.splitFollows ? 'follows' : 'own',
      splitOn: nuc.splitOn !== null && nuc.splitOn > today ? nuc.splitOn : today,
    },
    () => change(body),
  );
  const { values, field } = form;
  const arrivalId = values.arrivalId ?? now;
  const splitOn = values.made === 'own' || arrivalId === '' ? values.splitOn : undefined;
  const body: BodyOf<'changeIntroduction'> = {
    ...(arrivalId === now ? {} : { arrivalId: arrivalId === '' ? null : arrivalId }),
    ...(nuc.splitMade ? {} : { plannedSplit: splitOn ?? null }),
  };
  return (
    <>
      <Form of={form}>
        <Select
          label="Its queen comes with"
          {...field('arrivalId')}
          value={arrivalId}
          options={[
            ...deliveries.map((one) => ({
              value: one.id,
              words: deliveryWords(one),
            })),
            { value: '', words: 'no delivery' },
          ]}
        />
        {!nuc.splitMade && (
          <>
            {arrivalId !== '' && (
              <Choice label="The split is made" {...field('made')} options={optionsOf(splitWords)} />
            )}
            {splitOn !== undefined && <Text type="date" label="Split on" {...field('splitOn')} min={today} />}
            <Preview nuc={nuc} siteId={siteId} arrivalId={arrivalId} splitOn={splitOn} today={today} />
          </>
        )}
        <Submit of={form} disabled={Object.keys(body).length === 0 || (!nuc.splitMade && splitOn === '')}>
          Change it
        </Submit>
      </Form>
      {!nuc.splitMade && <CallOff change={change} />}
    </>
  );
}

const splitWords = { follows: 'a week before the delivery', own: 'on a day of its own' } as const;

function CallOff({ change }: { change: (body: BodyOf<'changeIntroduction'>) => Promise<void> }) {
  const form = useForm({ reason: '' }, (values) => change({ calledOff: true, ...filled(values) }));
  return (
    <details>
      <summary>This split will not be made</summary>
      <Form of={form}>
        <Text label="Why, if you like" {...form.field('reason')} />
        <Submit of={form} main={false}>
          Call it off
        </Submit>
      </Form>
    </details>
  );
}

interface PreviewProps {
  readonly nuc: NucForQueen;
  readonly siteId: string | undefined;
  readonly arrivalId: string;
  /** Absent: it follows the delivery. */
  readonly splitOn: string | undefined;
  readonly today: string;
}

function Preview({ nuc, siteId, arrivalId, splitOn, today }: PreviewProps) {
  const body: BodyOf<'previewBatch'> = {
    name: nuc.nucName,
    namePrefix: nuc.nucName.slice(0, 60),
    siteId: siteId ?? '',
    nucs: 1,
    planned: true,
    by: splitOn === undefined ? 'arrival' : 'split',
    ...(arrivalId === '' ? {} : { arrivalId }),
    ...(splitOn === undefined ? {} : { splitOn }),
  };
  const { preview, problem } = usePreview(siteId !== undefined && splitOn !== '' ? body : undefined);
  const asItIs = { ...body, by: 'split' as const, splitOn: nuc.splitOn ?? '' };
  const before = usePreview(siteId !== undefined && nuc.splitOn !== null ? asItIs : undefined).preview;
  return (
    <div class="batch-dates" aria-live="polite">
      <h3>What follows</h3>
      {problem !== undefined && <p class="fault">{problem}</p>}
      {preview && <Dates preview={preview} before={before} today={today} />}
    </div>
  );
}
