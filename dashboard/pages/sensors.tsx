/** Every channel and its health; those that wait to be assigned first; messages nobody understood. */
import { useState } from 'preact/hooks';
import type { Channel } from '../../server/contract/sensors.ts';
import { byName } from '../format/names.ts';
import { count } from '../format/units.ts';
import { age } from '../format/when.ts';
import { Text } from '../parts/fields.tsx';
import { Fold } from '../parts/fold.tsx';
import { useSheet } from '../parts/sheet.tsx';
import { EmptyState, ResourceView } from '../parts/resource-view.tsx';
import { AssignNode, nodeName } from '../sensors/assign-node.tsx';
import { ChannelRow } from '../sensors/channel-row.tsx';
import { Devices } from '../sensors/devices.tsx';
import { ForgetSheet } from '../sensors/forget-sheet.tsx';
import { MappingList } from '../sensors/mapping-list.tsx';
import { QuarantineList } from '../sensors/quarantine-list.tsx';
import { SensorHelp } from '../sensors/sensor-help.tsx';
import { channels, sites } from '../state/farm.ts';
import { serverNow } from '../state/live.ts';
import { useResource } from '../state/resource.ts';
import { mayKeep } from '../state/session.ts';
import { healthWords, placeWords } from '../words/labels.ts';

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
      <div>
        <Fold title="Mappings">
          <MappingList />
        </Fold>
        {mayKeep.value && (
          <Fold title="Devices">
            <Devices />
          </Fold>
        )}
        <Help />
      </div>
    </>
  );
}

/** Open while no sensor has reported: then it is what the page is for. */
function Help() {
  const { data } = useResource(channels);
  if (!data) return null;
  return (
    <Fold title="Connect a sensor" open={data.items.length === 0}>
      <SensorHelp />
    </Fold>
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
      `${one.sensor} ${one.name ?? ''} ${one.quantity} ${one.assignment?.ownerName ?? ''}`
        .toLocaleLowerCase()
        .includes(wanted),
    );
  return (
    <>
      {items.length === 0 && (
        <EmptyState title="No sensor has reported yet.">
          <p>New ones appear here.</p>
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
            <OwnerGroup key={owner} owner={owner} channels={those} open={wanted !== ''} />
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
  const [node, setNode] = useState<readonly Channel[]>([]);
  return (
    <section class="card" aria-label="Waiting to be assigned">
      <h2>Waiting to be assigned</h2>
      {bySensor(all ? items : items.slice(0, atOnce)).map(([sensor, those]) => (
        <div key={sensor} class="owner-group">
          {those.length > 1 && mayKeep.value && (
            <button
              type="button"
              class="main"
              onClick={() => {
                setNode(those);
              }}
            >
              Assign all {those.length} of {nodeName(those)} …
            </button>
          )}
          <ul class="channels">
            {those.map((one) => (
              <ChannelRow key={one.id} channel={one} />
            ))}
          </ul>
        </div>
      ))}
      <AssignNode
        channels={node}
        close={() => {
          setNode([]);
        }}
      />
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

function bySensor(channels: readonly Channel[]): readonly (readonly [string, readonly Channel[]])[] {
  const groups = new Map<string, Channel[]>();
  for (const one of channels) groups.set(one.sensor, [...(groups.get(one.sensor) ?? []), one]);
  return [...groups];
}

interface OwnerGroupProps {
  readonly owner: string;
  readonly channels: readonly Channel[];
  readonly open: boolean;
}

/** One line a nuc or site; its channels when it is opened, or at once where one of them is silent or late. */
function OwnerGroup({ owner, channels: those, open: first }: OwnerGroupProps) {
  const ill = those.filter(({ health }) => health === 'silent' || health === 'late');
  const [open, setOpen] = useState(false);
  return (
    <details
      class="owner-group"
      open={first}
      onToggle={(event) => {
        setOpen(event.currentTarget.open);
      }}
    >
      <summary>
        <h3>
          <bdi>{owner}</bdi>
        </h3>
        <span class={ill.length > 0 ? 'fault' : 'soft'}>{healthOf(those, ill)}</span>
      </summary>
      {(open || first) && (
        <ul class="channels">
          {those.map((one) => (
            <ChannelRow key={one.id} channel={one} />
          ))}
        </ul>
      )}
    </details>
  );
}

/** `brood frame silent`, or how many report and how old the newest reading is. */
function healthOf(those: readonly Channel[], ill: readonly Channel[]): string {
  if (ill.length > 0)
    return ill
      .map(
        ({ assignment, health }) =>
          `${assignment ? placeWords[assignment.place] : ''} ${healthWords[health]}`,
      )
      .join(', ');
  const newest = Math.max(...those.map(({ latest }) => (latest ? Date.parse(latest.time) : 0)));
  const channelsWords = count(those.length, 'channel');
  return newest === 0 ? channelsWords : `${channelsWords}, ${age(serverNow.value - newest)} ago`;
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
