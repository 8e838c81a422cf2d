/** Who is told, how, and when they are left in peace. */
import { useState } from 'preact/hooks';
import type { NotificationChannel } from '../../server/contract/notifications.ts';
import { call } from '../api/client.ts';
import { dayAndTime, deviceZone } from '../format/when.ts';
import { ActionButton } from '../parts/action-button.tsx';
import { EmptyState, ResourceView } from '../parts/resource-view.tsx';
import { Sheet, useSheet } from '../parts/sheet.tsx';
import { BrowserNotifications } from './browser-notifications.tsx';
import { clock } from '../state/live.ts';
import { forgetThisDevice, ownChannelId } from '../state/push.ts';
import { loadMe, me } from '../state/session.ts';
import { urgencyWords } from '../words/labels.ts';
import { NotificationChannelForm } from './channel-form.tsx';
import { kinds, notificationChannels } from './channels.ts';
import { ThisDevice } from './this-device.tsx';

export function NotificationChannels() {
  const add = useSheet();
  return (
    <section class="card" aria-label="Notifications">
      <h2>Notifications</h2>
      <ResourceView of={notificationChannels} what="the notification channels">
        {(data) => (
          <>
            {data.items.length === 0 && (
              <EmptyState title="No notifications set up.">
                <p>Alerts then show only on this page.</p>
              </EmptyState>
            )}
            <Unreadable />
            <ul class="plain-list">
              {data.items.map((one) => (
                <Row key={one.id} one={one} />
              ))}
            </ul>
          </>
        )}
      </ResourceView>
      <button type="button" onClick={add.show}>
        Add notification …
      </button>
      <Sheet of={add} title="Notification">
        <NotificationChannelForm done={add.close} />
      </Sheet>
      <ThisDevice />
      <BrowserNotifications />
    </section>
  );
}

/** Ways that are stored and can't be read: they can only be deleted. */
function Unreadable() {
  const prefix = 'telling/';
  const ids = (me.value?.settingFaults ?? []).flatMap(({ name }) =>
    name.startsWith(prefix) ? [name.slice(prefix.length)] : [],
  );
  return (
    <>
      {ids.map((id) => (
        <p key={id} class="row-acts">
          A notification channel can’t be read ({id}).{' '}
          <ActionButton
            run={async () => {
              await call('deleteTelling', { params: { id } });
              await Promise.all([notificationChannels.reload(), loadMe()]);
            }}
          >
            Delete it<span class="hidden-words"> ({id})</span>
          </ActionButton>
        </p>
      ))}
    </>
  );
}

function Row({ one }: { one: NotificationChannel }) {
  const change = useSheet();
  const drop = useSheet();
  const [tried, setTried] = useState('');
  return (
    <li>
      <p>
        <b>
          <bdi>{one.name}</bdi>
        </b>{' '}
        <span class="soft">
          {kinds[one.kind].words}
          {one.address !== '' && one.kind !== 'push' && `, ${one.address}`};{' '}
          {one.urgencies.map((each) => urgencyWords[each]).join(', ')}
          {one.quietHours && `; quiet ${one.quietHours.from} to ${one.quietHours.to}, but for now`}
          {one.digestAt !== undefined && `; digest at ${one.digestAt}`}
          {!one.enabled && one.endedAt === undefined && '; switched off'}
          {one.endedAt !== undefined &&
            `; took no message ${dayAndTime(Date.parse(one.endedAt), deviceZone(), clock.value)}: turn it on there again`}
        </span>
      </p>
      <p class="row-acts">
        <ActionButton
          run={async () => {
            setTried('');
            const { ok, detail } = await call('tryTelling', { params: { id: one.id } }, 60_000);
            setTried(`${ok ? 'Sent.' : 'Not sent.'} ${detail}`);
          }}
        >
          Send a test<span class="hidden-words"> by {one.name}</span>
        </ActionButton>
        <button type="button" onClick={change.show}>
          Change …<span class="hidden-words"> {one.name}</span>
        </button>
        <button type="button" onClick={drop.show}>
          Delete …<span class="hidden-words"> {one.name}</span>
        </button>
      </p>
      {tried !== '' && (
        <p class="notice" role="status">
          {tried}
        </p>
      )}
      <Sheet of={change} title={one.name}>
        <NotificationChannelForm one={one} done={change.close} />
      </Sheet>
      <Sheet of={drop} title={`Delete ${one.name}?`}>
        <p>Nobody is notified this way any more.</p>
        <ActionButton
          run={async () => {
            await call('deleteTelling', { params: { id: one.id } });
            if (one.id === ownChannelId()) await forgetThisDevice();
            await notificationChannels.reload();
          }}
        >
          Delete it
        </ActionButton>
      </Sheet>
    </li>
  );
}
