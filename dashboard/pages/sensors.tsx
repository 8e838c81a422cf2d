/** Every channel and its health; those that wait to be assigned first; messages nobody understood. */
import { useState } from 'preact/hooks';
import type { Channel } from '../../server/contract/sensors.ts';
import { byName } from '../format/names.ts';
import { Text } from '../parts/fields.tsx';
import { useSheet } from '../parts/sheet.tsx';
import { EmptyState, ResourceView } from '../parts/resource-view.tsx';
import { ChannelRow } from '../sensors/channel-row.tsx';
import { Devices } from '../sensors/devices.tsx';
import { ForgetSheet } from '../sensors/forget-sheet.tsx';
import { MappingList } from '../sensors/mapping-list.tsx';
import { QuarantineList } from '../sensors/quarantine-list.tsx';
import { SensorHelp } from '../sensors/sensor-help.tsx';
import { channels, sites } from '../state/farm.ts';
import { useResource } from '../state/resource.ts';
import { mayKeep } from '../state/session.ts';

const searchFrom = 12;
/** Rows drawn at once; the rest on request, for farms with hundreds of channels. */
const atOnce = 60;

export default function Sensors() {
  useResource(sites);
  return (
    <>
      <header class="page-head">
        <h1>Sensors</h1>
      </header>
      <ResourceView of={channels} what="the sensors">
        {(data) => <Channels items={data.items} />}
      </ResourceView>
      <QuarantineList />
      <MappingList />
      {mayKeep.value && <Devices />}
      <SensorHelp />
    </>
  );
}

function Channels({ items }: { items: readonly Channel[] }) {
  const [search, setSearch] = useState('');
  const [all, setAll] = useState(false);
  const waiting = items.filter((one) => one.assignment === null);
  const wanted = search.trim().toLocaleLowerCase();
  const assigned = items
    .filter((one) => one.assignment !== null)
    .filter((one) =>
      `${one.sensor} ${one.quantity} ${one.assignment?.ownerName ?? ''}`.toLocaleLowerCase().includes(wanted),
    );
  return (
    <>
      {items.length === 0 && (
        <EmptyState title="No sensor has spoken yet.">
          <p>Let one publish, and it appears here by itself. Below it says how.</p>
        </EmptyState>
      )}
      {waiting.length > 0 && <Waiting items={waiting} />}
      {items.some((one) => one.assignment !== null) && (
        <section class="card" aria-label="Assigned">
          <h2>Assigned</h2>
          {items.length >= searchFrom && (
            <Text label="Find by sensor or nuc" value={search} onValue={setSearch} />
          )}
          {byOwner(all ? assigned : assigned.slice(0, atOnce)).map(([owner, those]) => (
            <div key={owner} class="owner-group">
              <h3>
                <bdi>{owner}</bdi>
              </h3>
              <ul class="channels">
                {those.map((one) => (
                  <ChannelRow key={one.id} channel={one} />
                ))}
              </ul>
            </div>
          ))}
          {assigned.length > atOnce && !all && (
            <button
              type="button"
              onClick={() => {
                setAll(true);
              }}
            >
              Show all {assigned.length}
            </button>
          )}
        </section>
      )}
    </>
  );
}

function Waiting({ items }: { items: readonly Channel[] }) {
  const [all, setAll] = useState(false);
  const forget = useSheet();
  return (
    <section class="card" aria-label="Waiting to be assigned">
      <h2>Waiting to be assigned</h2>
      <ul class="channels">
        {(all ? items : items.slice(0, atOnce)).map((one) => (
          <ChannelRow key={one.id} channel={one} />
        ))}
      </ul>
      {items.length > atOnce && !all && (
        <button
          type="button"
          onClick={() => {
            setAll(true);
          }}
        >
          Show all {items.length} that wait
        </button>
      )}
      {items.length > 1 && mayKeep.value && (
        <>
          <button type="button" onClick={forget.show}>
            Forget all {items.length} …
          </button>
          <ForgetSheet of={forget} channels={items} />
        </>
      )}
    </section>
  );
}

/** Nucs and sites with their channels; those with one in trouble first. */
function byOwner(channels: readonly Channel[]): readonly (readonly [string, readonly Channel[]])[] {
  const groups = new Map<string, Channel[]>();
  for (const one of channels) {
    const owner = one.assignment?.ownerName ?? '';
    groups.set(owner, [...(groups.get(owner) ?? []), one]);
  }
  const trouble = (those: readonly Channel[]): number =>
    Math.min(...those.map((one) => ({ silent: 0, late: 1, new: 2, fresh: 2 })[one.health]));
  return [...groups].sort(([a, x], [b, y]) => trouble(x) - trouble(y) || byName(a, b));
}
