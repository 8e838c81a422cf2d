/** What has spoken is told where it stands; from then on its readings are that nuc's. */
import { ChannelRow } from '../sensors/channel-row.tsx';
import { channels } from '../state/farm.ts';
import { useResource } from '../state/resource.ts';
import { skip } from './skipped.ts';

export function FirstPlace() {
  const all = useResource(channels).data?.items ?? [];
  const waiting = all.filter((one) => one.assignment === null);
  const begun = waiting.length < all.length;
  return (
    <>
      <p>
        {waiting.length > 0
          ? 'These have reported. Assign one to your nuc: its readings stand under the nuc’s rail.'
          : 'No sensor has reported yet. New ones appear here.'}
      </p>
      <ul class="channels">
        {waiting.map((one) => (
          <ChannelRow key={one.id} channel={one} />
        ))}
      </ul>
      <button
        type="button"
        onClick={() => {
          skip('place');
        }}
      >
        {begun ? 'Go on; the others later, on the Sensors page' : 'Later: on the Sensors page'}
      </button>
    </>
  );
}
