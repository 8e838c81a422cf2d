/** Calibrates a channel from now on; what was measured before keeps what held then. */
import type { Channel } from '../../server/contract/sensors.ts';
import type { BodyOf, ResponseOf } from '../../server/contract/index.ts';
import { call } from '../api/client.ts';
import { differenceFromShown, fixed, fromShown, reading, shownUnit } from '../format/units.ts';
import { typedNumber } from '../format/typed.ts';
import { dayAndTime, deviceZone } from '../format/when.ts';
import { ActionButton } from '../parts/action-button.tsx';
import type { Option } from '../parts/fields.tsx';
import { Choice, NumberText } from '../parts/fields.tsx';
import type { FormState } from '../parts/form.tsx';
import { Form, Submit, useForm } from '../parts/form.tsx';
import type { SheetState } from '../parts/sheet.tsx';
import { Sheet } from '../parts/sheet.tsx';
import { channelsChanged } from '../state/farm.ts';
import { serverMinute, serverNow } from '../state/live.ts';
import { resourceFamily, useResource } from '../state/resource.ts';
import { display } from '../state/session.ts';
import { channelName } from './channel-name.ts';

type Kind = BodyOf<'addCalibration'>['kind'];

interface CalibrationProps {
  readonly of: SheetState;
  readonly channel: Channel;
}

export function CalibrationSheet({ of, channel }: CalibrationProps) {
  return (
    <Sheet of={of} title={`Calibrate ${channelName(channel)}`}>
      <CalibrationForm channel={channel} done={of.close} />
    </Sheet>
  );
}

const kindsFor = (channel: Channel): readonly Option<Kind>[] =>
  channel.quantity === 'weight'
    ? [
        { value: 'two-point', words: 'by a known weight' },
        { value: 'tare', words: 'it is empty now' },
        { value: 'offset', words: 'add a fixed amount' },
      ]
    : [
        { value: 'offset', words: 'add a fixed amount' },
        { value: 'scale', words: 'multiply' },
      ];

interface Taken {
  readonly value: number;
  readonly atMs: number;
}

/** A weight that is put on at once looks like a spike, and is none here; nor are counts wrong before a calibration. */
const believed = new Set<unknown>([undefined, 'spike', 'rate', 'stuck', 'uncalibrated']);

/** The newest reading as the sensor sent it; later than the one before, where there is one. */
async function rawNow(id: number, before?: Taken): Promise<Taken> {
  const fromMs = before ? before.atMs + 1 : serverNow.peek() - 24 * 3_600_000;
  const { items } = await call('getReadings', {
    params: { id },
    query: {
      from: new Date(fromMs).toISOString(),
      resolution: 'raw',
      calibrated: 'false',
      suspect: 'true',
      limit: 100_000,
    },
  });
  const newest = items.filter(({ suspect }) => believed.has(suspect)).at(-1);
  if (newest) return { value: newest.value, atMs: Date.parse(newest.time) };
  throw new Error(
    before
      ? 'No reading has come since the empty one; wait for the next.'
      : 'It has sent nothing believable in the last day; wait for a reading.',
  );
}

interface CalibrationValues {
  readonly kind: Kind;
  readonly empty: Taken | undefined;
  readonly loaded: Taken | undefined;
  readonly typed: string;
}

async function calibrationOf(channel: Channel, values: CalibrationValues): Promise<BodyOf<'addCalibration'>> {
  const { kind, empty, loaded, typed } = values;
  const value = typedNumber(typed);
  const from = new Date(serverNow.peek()).toISOString();
  switch (kind) {
    case 'offset':
      return { kind, from, add: differenceFromShown(value, channel.unit, display.value) };
    case 'scale':
      return { kind, from, factor: value };
    case 'tare':
      return { kind, from, rawNow: (await rawNow(channel.id)).value };
    case 'two-point':
      return {
        kind,
        from,
        rawLow: empty?.value ?? 0,
        trueLow: 0,
        rawHigh: loaded?.value ?? 0,
        trueHigh: fromShown(value, channel.unit, display.value),
      };
  }
}

function isComplete({ kind, empty, loaded, typed }: CalibrationValues): boolean {
  if (kind === 'tare') return true;
  if (!Number.isFinite(typedNumber(typed))) return false;
  return kind !== 'two-point' || (!!empty && !!loaded && empty.value !== loaded.value);
}

function CalibrationForm({ channel, done }: { channel: Channel; done: () => void }) {
  const kinds = kindsFor(channel);
  const form = useForm<CalibrationValues>(
    { kind: kinds[0]?.value ?? 'offset', empty: undefined, loaded: undefined, typed: '' },
    async (values) => {
      const body = await calibrationOf(channel, values);
      await call('addCalibration', { params: { id: channel.id }, body });
      await Promise.all([channelsChanged(), calibrations(String(channel.id)).reload()]);
      done();
    },
  );
  const { kind } = form.values;
  const unit = shownUnit(channel.unit, display.value);
  return (
    <Form of={form}>
      <Choice label="How" {...form.field('kind')} options={kinds} />
      {kind === 'two-point' && <TwoPoints channel={channel} form={form} />}
      {kind === 'tare' && <p>Its newest reading becomes zero. Use it with nothing on the scale.</p>}
      {kind !== 'tare' && (
        <NumberText
          label={
            kind === 'scale' ? 'Factor' : kind === 'two-point' ? `The known weight, ${unit}` : `Add, ${unit}`
          }
          {...form.field('typed')}
        />
      )}
      <Submit of={form} disabled={!isComplete(form.values)}>
        Calibrate from now on
      </Submit>
      <Earlier channel={channel} />
    </Form>
  );
}

interface TwoPointsProps {
  readonly channel: Channel;
  readonly form: FormState<CalibrationValues>;
}

function TwoPoints({ channel, form: { values, set } }: TwoPointsProps) {
  const raw = (taken: Taken | undefined): string => (taken ? fixed(taken.value, 3) : 'not taken yet');
  return (
    <ol class="steps">
      <li>
        Take everything off the scale and wait for a reading.{' '}
        <ActionButton
          run={async () => {
            set({ empty: await rawNow(channel.id) });
          }}
        >
          Take the empty reading
        </ActionButton>{' '}
        {raw(values.empty)}
      </li>
      <li>
        Put the known weight on and wait for a reading.{' '}
        <ActionButton
          run={async () => {
            set({ loaded: await rawNow(channel.id, values.empty) });
          }}
        >
          Take the loaded reading
        </ActionButton>{' '}
        {raw(values.loaded)}
      </li>
    </ol>
  );
}

const calibrations = resourceFamily((id) => call('listCalibrations', { params: { id: Number(id) } }));
type Calibration = ResponseOf<'listCalibrations'>['items'][number];

function inWords({ fact }: Calibration, unit: string): string {
  switch (fact.kind) {
    case 'offset':
      return `${fixed(fact.add, 3)} added`;
    case 'scale':
      return `multiplied by ${fixed(fact.factor, 4)}`;
    case 'tare':
      return 'set to zero';
    case 'two-point':
      return `by a known weight of ${reading(fact.trueHigh, unit, display.value)}`;
  }
}

function Earlier({ channel }: { channel: Channel }) {
  const list = useResource(calibrations(String(channel.id))).data?.items ?? [];
  if (list.length === 0) return null;
  return (
    <>
      <h3>So far</h3>
      <ul>
        {list.map((one) => (
          <li key={one.id}>
            {dayAndTime(Date.parse(one.from), deviceZone(), serverMinute.value)}: {inWords(one, channel.unit)}
          </li>
        ))}
      </ul>
    </>
  );
}
