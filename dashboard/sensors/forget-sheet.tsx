/** Asks before channels that were never assigned are forgotten, with their readings. */
import type { Channel } from '../../server/contract/sensors.ts';
import { call } from '../api/client.ts';
import { count } from '../format/units.ts';
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
