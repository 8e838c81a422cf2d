/** Says where a channel stands, from when on. */
import type { Place } from '../../server/contract/common.ts';
import type { Channel } from '../../server/contract/sensors.ts';
import { call } from '../api/client.ts';
import { isoAt, localDate, localTime } from '../format/calendar.ts';
import { Caution } from '../parts/caution.tsx';
import { Choice, Select, Text } from '../parts/fields.tsx';
import { Form, Submit, useForm } from '../parts/form.tsx';
import type { SheetState } from '../parts/sheet.tsx';
import { Sheet } from '../parts/sheet.tsx';
import { zoneOfSite } from '../parts/site-zone.ts';
import { channelsChanged, hives, nucsChanged, sites } from '../state/farm.ts';
import { serverMinute, serverNow } from '../state/live.ts';
import { useResource } from '../state/resource.ts';
import { placeWords } from '../words/labels.ts';
import { channelName } from './channel-name.ts';
import { choicesOf, notChosen, ofSite, placesFor } from './places.ts';

interface AssignProps {
  readonly of: SheetState;
  readonly channel: Channel;
}

export function AssignSheet({ of, channel }: AssignProps) {
  return (
    <Sheet of={of} title={`Where does ${channelName(channel)} stand?`}>
      <AssignForm channel={channel} done={of.close} />
    </Sheet>
  );
}

function AssignForm({ channel, done }: { channel: Channel; done: () => void }) {
  const allHives = useResource(hives).data?.items.filter((hive) => hive.retiredAt === undefined) ?? [];
  const allSites = useResource(sites).data?.items ?? [];
  const places = placesFor[channel.quantity];
  const now = channel.assignment?.to === undefined ? channel.assignment : undefined;
  const nowAt = now?.hiveId ?? now?.siteId ?? '';
  const form = useForm(
    {
      // One that stands somewhere starts there: a press too many moves nothing. Of a new one nothing is chosen.
      place: now?.place ?? (places.length === 1 ? places[0] : undefined),
      owner: nowAt,
      since: 'start',
      // Left alone, they are now, by the site's clock.
      day: undefined as string | undefined,
      time: undefined as string | undefined,
    },
    async () => {
      if (place === undefined) return;
      await move(channel, place, chosen, values.since === 'earlier' ? isoAt(day, time, zone) : undefined);
      done();
    },
  );
  const { values, field } = form;
  const { place } = values;
  const options = ofSite(place)
    ? [notChosen, ...allSites.map((site) => ({ value: site.id, words: site.name }))]
    : choicesOf(allHives, allSites);
  const chosen = options.find(({ value }) => value === values.owner)?.value ?? '';
  const zone = zoneOfSite(ofSite(place) ? chosen : allHives.find((hive) => hive.id === chosen)?.siteId);
  const day = values.day ?? localDate(serverMinute.value, zone);
  const time = values.time ?? localTime(serverMinute.value, zone);
  return (
    <Form of={form}>
      {places.length > 1 && (
        <Choice
          label="Where it is"
          {...field('place')}
          options={places.map((each) => ({ value: each, words: placeWords[each] }))}
        />
      )}
      {options.length === 1 ? (
        <p class="notice">There is no {ofSite(place) ? 'site' : 'nuc'} to assign it to yet.</p>
      ) : (
        <Select
          label={ofSite(place) ? 'Site' : 'Nuc or parent colony'}
          {...field('owner')}
          value={chosen}
          options={options}
        />
      )}
      <Choice
        label="Since"
        {...field('since')}
        options={[
          { value: 'start', words: channel.assignment ? 'now' : 'its first reading' },
          { value: 'earlier', words: 'a day and time' },
        ]}
      />
      {values.since === 'earlier' && (
        <>
          <Text type="date" label="Day" {...field('day')} value={day} />
          <Text type="time" label="Time at the site" {...field('time')} value={time} />
        </>
      )}
      <Caution about="electrics" />
      <Submit
        of={form}
        disabled={place === undefined || chosen === '' || (chosen === nowAt && place === now?.place)}
      >
        It stands there
      </Submit>
    </Form>
  );
}

/** Where it stands since its first reading. */
export const assignChannel = (channel: Channel, place: Place, owner: string): Promise<void> =>
  move(channel, place, owner, undefined);

/** To a hive or site, from an instant on; without one, from when `startFor` says. */
async function move(channel: Channel, place: Place, owner: string, since: string | undefined): Promise<void> {
  const from = since ?? new Date(startFor(channel)).toISOString();
  const at = ofSite(place) ? { siteId: owner } : { hiveId: owner };
  await call('assign', { body: { channelId: channel.id, place, from, ...at, takesOver: true } });
  await Promise.all([channelsChanged(), nucsChanged()]);
}

/** A new sensor stood there since it first spoke; one that is moved, since now. */
function startFor(channel: Channel): number {
  if (channel.assignment || channel.firstTime === null) return serverNow.peek();
  return Date.parse(channel.firstTime);
}
