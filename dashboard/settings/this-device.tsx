/** Push messages to the device in the hand: one button, and what it takes. */
import { pushPossible, turnOn, ownChannelId } from '../state/push.ts';
import { offline } from '../offline/register.ts';
import { ActionButton } from '../parts/action-button.tsx';
import { notificationChannels } from './channels.ts';
import { useResource } from '../state/resource.ts';

export function ThisDevice() {
  const { data } = useResource(notificationChannels);
  if (!data) return null;
  const on = data.items.some(({ id, endedAt }) => id === ownChannelId() && endedAt === undefined);
  return (
    <section aria-label="Messages to this device">
      <h3>Messages to this device</h3>
      {on ? (
        <p>This device gets messages, also while the page is closed.</p>
      ) : (
        <>
          <Offer />
          <p class="hint">
            Off until you turn it on. Each message goes encrypted through the service of the browser’s maker.
            That service sees when one comes, not what it says, and is given the address of this page as
            contact.
          </p>
        </>
      )}
    </section>
  );
}

function Offer() {
  if (!isSecureContext) return <p>This needs HTTPS: see the guide “Behind a reverse proxy, and HTTPS”.</p>;
  if (!pushPossible())
    return (
      <p>
        This browser takes no messages here. On some phones a page has to be on the home screen first: add it,
        then open it from there.
      </p>
    );
  if (offline.value !== 'ready')
    return (
      <p>
        {offline.value === 'starting'
          ? 'Getting ready …'
          : 'This browser does not let the page keep itself, so it takes no messages.'}
      </p>
    );
  return (
    <ActionButton
      main
      run={async () => {
        await turnOn(notificationChannels.snapshot.value.data?.items ?? []);
        await notificationChannels.reload();
      }}
    >
      Send messages to this device
    </ActionButton>
  );
}
