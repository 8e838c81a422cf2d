/** Calibrates a channel from now on; what was measured before keeps what held then. */
import { useEffect, useState } from 'preact/hooks';
import type { Channel } from '../../server/contract/sensors.ts';
import type { BodyOf, ResponseOf } from '../../server/contract/index.ts';
import { call } from '../api/client.ts';
import { differenceFromShown, fixed, fromShown, reading, shownUnit } from '../format/units.ts';
import { dayAndTime, deviceZone } from '../format/when.ts';
import { Act } from '../parts/act.tsx';
import { Choice, Text } from '../parts/fields.tsx';
import type { SheetState } from '../parts/sheet.tsx';
import { Sheet } from '../parts/sheet.tsx';
import { channels } from '../state/farm.ts';
import { serverMinute, serverNow } from '../state/live.ts';
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

const kindsFor = (channel: Channel): readonly { value: Kind; words: string }[] =>
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

function CalibrationForm({ channel, done }: { channel: Channel; done: () => void }) {
  const kinds = kindsFor(channel);
  const [kind, setKind] = useState<Kind>(kinds[0]?.value ?? 'offset');
  const [empty, setEmpty] = useState<Taken | undefined>();
  const [loaded, setLoaded] = useState<Taken | undefined>();
  const [typed, setTyped] = useState('');
  const unit = shownUnit(channel.unit, display.value);
  const value = Number(typed.replace(',', '.'));
  const usable = typed.trim() !== '' && Number.isFinite(value);
  const raw = (of: Taken | undefined): string => (of ? fixed(of.value, 3) : 'not taken yet');

  const fact = async (): Promise<BodyOf<'addCalibration'>> => {
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
  };
  const ready =
    kind === 'tare' ||
    (usable && (kind !== 'two-point' || (empty && loaded && empty.value !== loaded.value)));
  return (
    <>
      <Choice
        label="How"
        value={kind}
        onValue={(to) => {
          setKind(to as Kind);
        }}
        options={kinds}
      />
      {kind === 'two-point' && (
        <ol class="steps">
          <li>
            Take everything off the scale and wait for a reading.{' '}
            <Act
              run={async () => {
                setEmpty(await rawNow(channel.id));
              }}
            >
              Take the empty reading
            </Act>{' '}
            {raw(empty)}
          </li>
          <li>
            Put the known weight on and wait for a reading.{' '}
            <Act
              run={async () => {
                setLoaded(await rawNow(channel.id, empty));
              }}
            >
              Take the loaded reading
            </Act>{' '}
            {raw(loaded)}
          </li>
        </ol>
      )}
      {kind === 'tare' && <p>Its newest reading becomes zero. Use it with nothing on the scale.</p>}
      {kind !== 'tare' && (
        <Text
          label={
            kind === 'scale' ? 'Factor' : kind === 'two-point' ? `The known weight, ${unit}` : `Add, ${unit}`
          }
          value={typed}
          onValue={setTyped}
        />
      )}
      <Act
        main
        disabled={!ready}
        run={async () => {
          await call('addCalibration', { params: { id: channel.id }, body: await fact() });
          await channels.reload();
          done();
        }}
      >
        Calibrate from now on
      </Act>
      <Earlier channel={channel} />
    </>
  );
}

function Earlier({ channel }: { channel: Channel }) {
  const [list, setList] = useState<ResponseOf<'listCalibrations'>['items']>([]);
  useEffect(() => {
    call('listCalibrations', { params: { id: channel.id } }).then(
      ({ items }) => {
        setList(items);
      },
      () => undefined,
    );
  }, [channel.id]);
  if (list.length === 0) return null;
  const words = (fact: (typeof list)[number]['fact']): string => {
    switch (fact.kind) {
      case 'offset':
        return `${fixed(fact.add, 3)} added`;
      case 'scale':
        return `multiplied by ${fixed(fact.factor, 4)}`;
      case 'tare':
        return 'set to zero';
      case 'two-point':
        return `by a known weight of ${reading(fact.trueHigh, channel.unit, display.value)}`;
    }
  };
  return (
    <>
      <h3>So far</h3>
      <ul>
        {list.map((one) => (
          <li key={one.id}>
            {dayAndTime(Date.parse(one.from), deviceZone(), serverMinute.value)}: {words(one.fact)}
          </li>
        ))}
      </ul>
    </>
  );
}
