/** Who is told, how, and when they are left in peace. */
import { useState } from 'preact/hooks';
import type { Telling } from '../../server/contract/settings.ts';
import { call } from '../api/client.ts';
import { deviceZone } from '../format/when.ts';
import { ActionButton } from '../parts/action-button.tsx';
import { Choice, Text, Checkbox } from '../parts/fields.tsx';
import { Form, Submit, useForm } from '../parts/form.tsx';
import { EmptyState, ResourceView } from '../parts/resource-view.tsx';
import { Sheet, useSheet } from '../parts/sheet.tsx';
import { BrowserNotifications } from './browser-notifications.tsx';
import { resource } from '../state/resource.ts';
import { loadMe, me } from '../state/session.ts';
import { newId } from '../visit/new-id.ts';
import { urgencyWords } from '../words/labels.ts';

const notificationChannels = resource(() => call('listTellings', {}));

const kinds: Readonly<
  Record<Telling['kind'], { readonly words: string; readonly address: string; readonly secret?: string }>
> = {
  mail: { words: 'mail', address: 'Mail address', secret: 'Password of the mail account, if needed' },
  webhook: {
    words: 'webhook',
    address: 'Address that takes the message',
    secret: 'Token to send with it, if one is wanted',
  },
  mqtt: { words: 'MQTT', address: 'Topic to publish on' },
  browser: { words: 'an open page', address: 'Name of the device' },
};

export function NotificationChannels() {
  const add = useSheet();
  return (
    <section class="card" aria-label="How you are told">
      <h2>How you are told</h2>
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
          A way to tell can’t be read ({id}).{' '}
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

function Row({ one }: { one: Telling }) {
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
          {one.address !== '' && `, ${one.address}`};{' '}
          {one.urgencies.map((each) => urgencyWords[each]).join(', ')}
          {one.quietHours && `; quiet ${one.quietHours.from} to ${one.quietHours.to}, but for now`}
          {one.digestAt !== undefined && `; digest at ${one.digestAt}`}
          {!one.enabled && '; switched off'}
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
            await notificationChannels.reload();
          }}
        >
          Delete it
        </ActionButton>
      </Sheet>
    </li>
  );
}

type Draft = Omit<Telling, 'id' | 'secret'>;
const fresh: Draft = { name: '', kind: 'mail', enabled: true, urgencies: ['now', 'today'], address: '' };

function NotificationChannelForm({ one, done }: { one?: Telling; done: () => void }) {
  const [id] = useState(() => one?.id ?? newId());
  const [dropped, setDropped] = useState(false);
  const form = useForm(
    () => {
      const { id: _id, secret: _shown, ...rest } = { ...fresh, id, secret: '', ...one };
      // Absent as long as they are switched off.
      return { ...rest, quietHours: rest.quietHours, digestAt: rest.digestAt, secret: '' };
    },
    async ({ secret, ...body }) => {
      const { secretDropped } = await call('putTelling', {
        params: { id },
        body: { ...body, ...(secret === '' ? {} : { secret }) },
      });
      await Promise.all([notificationChannels.reload(), loadMe()]);
      if (secretDropped === true) setDropped(true);
      else done();
    },
  );
  const { values, field, set } = form;
  const kind = kinds[values.kind];
  return (
    <Form of={form}>
      <Text label="Name" {...field('name')} />
      <Choice
        label="By"
        {...field('kind')}
        options={(Object.keys(kinds) as Telling['kind'][]).map((value) => ({
          value,
          words: kinds[value].words,
        }))}
      />
      <Text label={kind.address} {...field('address')} />
      {kind.secret !== undefined && (
        <Text
          label={kind.secret}
          type="password"
          autocomplete="off"
          {...field('secret')}
          hint={
            one?.secret === undefined
              ? 'never shown again'
              : 'one is set; empty keeps it for the same server and user'
          }
        />
      )}
      <fieldset class="choice">
        <legend>For what needs you</legend>
        {(Object.keys(urgencyWords) as Telling['urgencies']).map((urgency) => (
          <Checkbox
            key={urgency}
            label={urgencyWords[urgency]}
            value={values.urgencies.includes(urgency)}
            onValue={(on) => {
              const others = values.urgencies.filter((each) => each !== urgency);
              set({ urgencies: on ? [...others, urgency] : others });
            }}
          />
        ))}
      </fieldset>
      <QuietHours {...field('quietHours')} />
      <Checkbox
        label="Morning digest"
        value={values.digestAt !== undefined}
        onValue={(on) => {
          set({ digestAt: on ? '06:30' : undefined });
        }}
      />
      {values.digestAt !== undefined && (
        <Text type="time" label="At" {...field('digestAt')} value={values.digestAt} />
      )}
      <Checkbox label="Switched on" {...field('enabled')} />
      {dropped && (
        <p class="notice" role="status">
          Kept, without its password or token: that was for another address. Give it again if it is for this
          one, too.
        </p>
      )}
      <Submit of={form} disabled={values.name.trim() === ''}>
        Keep it
      </Submit>
    </Form>
  );
}

interface QuietHoursProps {
  readonly value: Telling['quietHours'];
  readonly onValue: (value: Telling['quietHours']) => void;
}

function QuietHours({ value, onValue }: QuietHoursProps) {
  return (
    <>
      <Checkbox
        label="Quiet hours"
        hint="What needs you now breaks through."
        value={value !== undefined}
        onValue={(on) => {
          onValue(on ? { from: '22:00', to: '06:30', timeZone: deviceZone() } : undefined);
        }}
      />
      {value && (
        <div class="inline-fields">
          <Text
            type="time"
            label="From"
            value={value.from}
            onValue={(from) => {
              onValue({ ...value, from });
            }}
          />
          <Text
            type="time"
            label="To"
            value={value.to}
            onValue={(to) => {
              onValue({ ...value, to });
            }}
          />
          <p class="soft">{value.timeZone.replaceAll('_', ' ')} time</p>
        </div>
      )}
    </>
  );
}
