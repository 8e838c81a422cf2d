/** Says where a channel stands, from when on. */
import { useState } from 'preact/hooks';
import type { Place } from '../../server/contract/common.ts';
import type { Channel } from '../../server/contract/sensors.ts';
import { call } from '../api/client.ts';
import { instantAt, localDate, localTime } from '../format/calendar.ts';
import { Act } from '../parts/act.tsx';
import { Caution } from '../parts/caution.tsx';
import { Choice, Pick, Text } from '../parts/fields.tsx';
import type { SheetState } from '../parts/sheet.tsx';
import { Sheet } from '../parts/sheet.tsx';
import { zoneOfSite } from '../parts/site-zone.ts';
import { channels, hives, nucs, sites } from '../state/farm.ts';
import { serverNow } from '../state/live.ts';
import { useResource } from '../state/resource.ts';
import { placeWords } from '../words/labels.ts';
import { channelName } from './channel-name.ts';
import { ofSite, placesFor } from './places.ts';

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

/** Who stood there before hands the place over: its assignment ends where the new one begins. */
async function endEarlier(all: readonly Channel[], owner: string, place: Place, from: string): Promise<void> {
  const before = all.filter(({ assignment }) => {
    if (!assignment || assignment.place !== place || assignment.to !== undefined) return false;
    return (assignment.hiveId ?? assignment.siteId) === owner;
  });
  for (const { assignment } of before) {
    if (assignment) await call('changeAssignment', { params: { id: assignment.id }, body: { to: from } });
  }
}

function AssignForm({ channel, done }: { channel: Channel; done: () => void }) {
  const allHives = useResource(hives).data?.items.filter((hive) => hive.retiredAt === undefined) ?? [];
  const allSites = useResource(sites).data?.items ?? [];
  const places = placesFor[channel.quantity];
  const [place, setPlace] = useState<Place>(places[0] ?? 'outside');
  const [owner, setOwner] = useState('');
  const [earlier, setEarlier] = useState(false);
  const options = ofSite(place)
    ? allSites.map((site) => ({ value: site.id, words: site.name }))
    : allHives.map((hive) => ({
        value: hive.id,
        words: `${hive.name}, ${allSites.find((site) => site.id === hive.siteId)?.name ?? ''}`,
      }));
  const chosen = options.some((option) => option.value === owner) ? owner : (options[0]?.value ?? '');
  const siteId = ofSite(place) ? chosen : allHives.find((hive) => hive.id === chosen)?.siteId;
  const zone = zoneOfSite(siteId);
  const [day, setDay] = useState(() => localDate(serverNow.peek(), zone));
  const [time, setTime] = useState(() => localTime(serverNow.peek(), zone));

  const save = async (): Promise<void> => {
    const from = new Date(earlier ? instantAt(day, time, zone) : startFor(channel)).toISOString();
    await endEarlier(channels.known.peek().data?.items ?? [], chosen, place, from);
    if (channel.assignment && channel.assignment.to === undefined) {
      await call('changeAssignment', { params: { id: channel.assignment.id }, body: { to: from } });
    }
    const at = ofSite(place) ? { siteId: chosen } : { hiveId: chosen };
    await call('assign', { body: { channelId: channel.id, place, from, ...at } });
    await Promise.all([channels.reload(), nucs.reload()]);
    done();
  };
  return (
    <>
      {places.length > 1 && (
        <Choice
          label="Where it is"
          value={place}
          onValue={(value) => {
            setPlace(value as Place);
          }}
          options={places.map((each) => ({ value: each, words: placeWords[each] }))}
        />
      )}
      {options.length === 0 ? (
        <p class="notice">There is no {ofSite(place) ? 'site' : 'nuc'} to assign it to yet.</p>
      ) : (
        <Pick
          label={ofSite(place) ? 'Site' : 'Nuc or parent colony'}
          value={chosen}
          onValue={setOwner}
          options={options}
        />
      )}
      <Choice
        label="Since"
        value={earlier ? 'earlier' : 'start'}
        onValue={(value) => {
          setEarlier(value === 'earlier');
        }}
        options={[
          { value: 'start', words: channel.assignment ? 'now' : 'its first reading' },
          { value: 'earlier', words: 'a day and time' },
        ]}
      />
      {earlier && (
        <>
          <Text type="date" label="Day" value={day} onValue={setDay} />
          <Text type="time" label="Time at the site" value={time} onValue={setTime} />
        </>
      )}
      <Caution about="electrics" />
      <Act main run={save} disabled={chosen === ''}>
        It stands there
      </Act>
    </>
  );
}

/** A new sensor stood there since it first spoke; one that is moved, since now. */
function startFor(channel: Channel): number {
  if (channel.assignment || channel.firstTime === null) return serverNow.peek();
  return Date.parse(channel.firstTime);
}
