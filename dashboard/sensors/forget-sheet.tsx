/** Asks before channels are forgotten, with their readings; of one that stands somewhere the readings can be kept. */
import type { Channel } from '../../server/contract/sensors.ts';
import { call } from '../api/client.ts';
import { count } from '../format/units.ts';
import { serverNow } from '../state/live.ts';
import { placeWords } from '../words/labels.ts';
import { ActionButton } from '../parts/action-button.tsx';
import { Sheet, type SheetState } from '../parts/sheet.tsx';
import { channels } from '../state/farm.ts';
import { channelName } from './channel-name.ts';

export function ForgetSheet({ of, channels: those }: { of: SheetState; channels: readonly Channel[] }) {
  const [first] = those;
  const one = those.length === 1 && first;
  const readings = those.reduce((sum, channel) => sum + channel.readings, 0);
  return (
    <Sheet of={of} title={one ? `Forget ${channelName(one)}?` : `Forget ${String(those.length)} channels?`}>
      <p>
        {one ? 'It goes' : 'They go'} for good, with {count(readings, 'reading')} and any calibration. A
        sensor that publishes again appears here again, without its past.
      </p>
      <ActionButton
        run={async () => {
          await call('forgetChannels', { body: { ids: those.map(({ id }) => id) } });
          await channels.reload();
        }}
      >
        {one ? 'Forget it' : 'Forget them'}
      </ActionButton>
    </Sheet>
  );
}

interface ForgetAssignedProps {
  readonly of: SheetState;
  readonly channel: Channel;
  readonly assignment: NonNullable<Channel['assignment']>;
}

/** Taken from its place, its readings stay that place's history; forgotten, they go there, too. */
export function ForgetAssigned({ of, channel, assignment }: ForgetAssignedProps) {
  const { ownerName, place } = assignment;
  return (
    <Sheet of={of} title={`Forget ${channelName(channel)}?`}>
      <p>
        It stands at <bdi>{ownerName}</bdi> ({placeWords[place]}). Taken from there, its{' '}
        {count(channel.readings, 'reading')} stay in the charts. It then waits to be assigned.
      </p>
      <ActionButton
        main
        run={async () => {
          const to = new Date(serverNow.value).toISOString();
          await call('changeAssignment', { params: { id: assignment.id }, body: { to } });
          await channels.reload();
        }}
      >
        Take it away, keep its readings
      </ActionButton>
      <p>
        Forgotten, it goes for good with its readings and any calibration, here and wherever it stood before.
        This can’t be undone.
      </p>
      <ActionButton
        run={async () => {
          await call('forgetChannels', { body: { ids: [channel.id], evenAssigned: true } });
          await channels.reload();
        }}
      >
        Forget it with its readings
      </ActionButton>
    </Sheet>
  );
}
