/** The first nuc, with the sensor that has reported: one act puts the sensor in it and opens its plan. */
import { useState } from 'preact/hooks';
import type { Place } from '../../server/contract/common.ts';
import type { BodyOf } from '../../server/contract/index.ts';
import type { Channel } from '../../server/contract/sensors.ts';
import { call, newId } from '../api/client.ts';
import { isoAt, localDate } from '../format/calendar.ts';
import { typedNumber } from '../format/typed.ts';
import { fromShown, newest, shownUnit } from '../format/units.ts';
import { Choice, NumberText, Select, Text, optionsOf } from '../parts/fields.tsx';
import { Form, Submit, useForm } from '../parts/form.tsx';
import { zoneOfSite } from '../parts/site-zone.ts';
import { Term } from '../parts/term.tsx';
import { hashFor } from '../route.ts';
import { assignChannel } from '../sensors/assign-sheet.tsx';
import { channelName } from '../sensors/channel-name.ts';
import { ofSite, placesOfNode } from '../sensors/places.ts';
import { channels, mappings, nucsChanged, quarantine, sites } from '../state/farm.ts';
import { serverNow } from '../state/live.ts';
import { useResource } from '../state/resource.ts';
import { display, loadMe } from '../state/session.ts';
import { QuarantineRow } from '../sensors/quarantine-list.tsx';
import { SensorHelp } from '../sensors/sensor-help.tsx';
import { placeWords } from '../words/labels.ts';
import { sensorSkipped } from './skipped.ts';

type Box = NonNullable<BodyOf<'addHive'>['box']>;
const boxes: Readonly<Record<Box, string>> = {
  wood: 'wood',
  polystyrene: 'polystyrene',
  other: 'something else',
};

export function FirstNuc() {
  const waiting = (useResource(channels).data?.items ?? []).filter(({ assignment }) => assignment === null);
  const sensors = [...new Set(waiting.map(({ sensor }) => sensor))];
  if (sensors.length === 0 && !sensorSkipped.value) return <Awaited />;
  return (
    <>
      <p>
        A <Term word="nuc" /> is known by its box. Queens come and go in it.
      </p>
      <NucForm waiting={waiting} sensors={sensors} />
    </>
  );
}

function Awaited() {
  const unread = useResource(quarantine).data?.items ?? [];
  const mapped = useResource(mappings).data?.items ?? [];
  return (
    <>
      {unread.length > 0 ? (
        <>
          <p role="status">
            <b>A sensor sent a message in an unknown format.</b> Say which of its figures are readings.
          </p>
          <ul class="quarantine">
            {unread.map((one) => (
              <QuarantineRow key={one.id} one={one} />
            ))}
          </ul>
        </>
      ) : (
        <p role="status">
          {mapped.length > 0
            ? 'The mapping is saved. Waiting for the next message of that sensor; its reading appears here by itself.'
            : 'Waiting for a first reading. It appears here by itself, as does a message that is not understood yet.'}
        </p>
      )}
      <SensorHelp />
      <button
        type="button"
        onClick={() => {
          sensorSkipped.value = true;
        }}
      >
        Later: go on without a sensor
      </button>
    </>
  );
}

const noonToday = (zone: string): string => isoAt(localDate(serverNow.peek(), zone), '12:00', zone);

/** Channels of one sensor, each with where it will stand. */
function placedOf(channels: readonly Channel[]): readonly (readonly [Channel, Place])[] {
  const places = placesOfNode(channels);
  return channels.flatMap((channel) => {
    const place = places.get(channel.id);
    return place === undefined ? [] : [[channel, place] as const];
  });
}

function NucForm({ waiting, sensors }: { waiting: readonly Channel[]; sensors: readonly string[] }) {
  const all = useResource(sites).data?.items ?? [];
  const [ids] = useState(() => ({ nuc: newId(), introduction: newId() }));
  const form = useForm(
    { name: 'Nuc 1', siteId: '', sensor: '', box: 'wood' as Box, empty: '' },
    async ({ name, box }) => {
      await call('addHive', {
        body: {
          id: ids.nuc,
          name: name.trim(),
          siteId,
          role: 'nuc',
          box,
          ...(isWeighed ? { emptyKg: fromShown(weight, 'kg', display.value) } : {}),
        },
      });
      await call('openIntroduction', {
        params: { id: ids.nuc },
        body: {
          id: ids.introduction,
          startingPoint: 'planned-split',
          method: 'candy-cage',
          plannedSplit: noonToday(zoneOfSite(siteId)),
        },
      });
      for (const [channel, place] of placed)
        await assignChannel(channel, place, ofSite(place) ? siteId : ids.nuc);
      location.hash = hashFor('nucs', ids.nuc);
      await Promise.all([nucsChanged(), loadMe()]);
    },
  );
  const { values, field } = form;
  const siteId = all.some((each) => each.id === values.siteId) ? values.siteId : (all[0]?.id ?? '');
  const sensor = sensors.includes(values.sensor) ? values.sensor : sensors[0];
  const placed = placedOf(waiting.filter((one) => one.sensor === sensor));
  const weight = typedNumber(values.empty);
  const isWeighed = values.empty.trim() !== '';
  const wrong = isWeighed && !(weight >= 0);
  return (
    <Form of={form}>
      <Text label="Its name or number" {...field('name')} />
      {sensors.length > 1 && (
        <Select
          label="Sensor"
          {...field('sensor')}
          value={sensor ?? ''}
          options={sensors.map((each) => ({ value: each, words: each }))}
        />
      )}
      <Placed channels={placed} />
      <details>
        <summary>Box and site</summary>
        <Select
          label="Site"
          {...field('siteId')}
          value={siteId}
          options={all.map((each) => ({ value: each.id, words: each.name }))}
        />
        <Choice label="The box is of" {...field('box')} options={optionsOf(boxes)} />
        <NumberText
          label={`Empty box with frames and floor, ${shownUnit('kg', display.value)}`}
          {...field('empty')}
          hint="if you know it; without it stores can’t be told from wood"
          fault={wrong ? 'A weight, please.' : undefined}
        />
      </details>
      <p class="soft">
        Its plan starts with a split today. Nothing counts as done before you log it; another start can be
        chosen on its page.
      </p>
      <Submit of={form} disabled={values.name.trim() === '' || siteId === '' || wrong}>
        {placed.length > 0 ? `Add it with ${sensor ?? ''}` : 'Add the nuc'}
      </Submit>
    </Form>
  );
}

/** What the sensor measures, and where each of it will stand. */
function Placed({ channels }: { channels: readonly (readonly [Channel, Place])[] }) {
  if (channels.length === 0) return null;
  return (
    <ul class="plain-list">
      {channels.map(([channel, place]) => (
        <li key={channel.id}>
          <bdi>{channelName(channel)}</bdi> {channel.latest && <b>{newest(channel.latest, display.value)}</b>}
          : {placeWords[place]}
        </li>
      ))}
    </ul>
  );
}
