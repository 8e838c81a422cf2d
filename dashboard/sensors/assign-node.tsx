/** All channels of one node put where they stand in one act. */
import { useState } from 'preact/hooks';
import type { Channel } from '../../server/contract/sensors.ts';
import { Select } from '../parts/fields.tsx';
import { Form, Submit, useForm } from '../parts/form.tsx';
import { Sheet } from '../parts/sheet.tsx';
import { hives, sites } from '../state/farm.ts';
import { useResource } from '../state/resource.ts';
import { placeWords } from '../words/labels.ts';
import { assignChannel } from './assign-sheet.tsx';
import { channelName } from './channel-name.ts';
import { choicesOf, ofSite, placesFor, placesOfNode } from './places.ts';

interface AssignNodeProps {
  /** As they waited when it was opened: those that are put somewhere wait no more. None: it is shut. */
  readonly channels: readonly Channel[];
  readonly close: () => void;
}

export const AssignNode = ({ channels, close }: AssignNodeProps) => (
  <Sheet of={{ open: channels.length > 0, close }} title={`Where does ${nodeName(channels)} stand?`}>
    <NodeForm channels={channels} done={close} />
  </Sheet>
);

export const nodeName = ([first]: readonly Channel[]): string => first?.name ?? first?.sensor ?? '';

const leave = '';

function NodeForm({ channels, done }: { channels: readonly Channel[]; done: () => void }) {
  const allHives = useResource(hives).data?.items.filter((hive) => hive.retiredAt === undefined) ?? [];
  const allSites = useResource(sites).data?.items ?? [];
  const [owner, setOwner] = useState('');
  const [places, setPlaces] = useState(() => placesOfNode(channels));
  const chosen = allHives.find(({ id }) => id === owner);
  const form = useForm({}, async () => {
    if (!chosen) return;
    for (const channel of channels) {
      const place = places.get(channel.id);
      if (place !== undefined) await assignChannel(channel, place, ofSite(place) ? chosen.siteId : chosen.id);
    }
    done();
  });
  if (allHives.length === 0) return <p class="notice">There is no nuc to assign it to yet.</p>;
  return (
    <Form of={form}>
      <Select
        label="Nuc or parent colony"
        value={owner}
        onValue={setOwner}
        options={choicesOf(allHives, allSites)}
      />
      {channels.map((channel) => (
        <Select
          key={channel.id}
          label={channelName(channel)}
          value={places.get(channel.id) ?? leave}
          onValue={(place) => {
            const others = new Map(places);
            const known = placesFor[channel.quantity].find((each) => each === place);
            if (known === undefined) others.delete(channel.id);
            else others.set(channel.id, known);
            setPlaces(others);
          }}
          options={[
            ...placesFor[channel.quantity].map((each) => ({
              value: each as string,
              words: placeWords[each],
            })),
            { value: leave, words: 'not here' },
          ]}
        />
      ))}
      <Submit of={form} disabled={!chosen || places.size === 0}>
        They stand there
      </Submit>
    </Form>
  );
}
