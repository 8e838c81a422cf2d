/** One notification channel: where to, for what, and when not. */
import { useState } from 'preact/hooks';
import type { NotificationChannel } from '../../server/contract/notifications.ts';
import { call, newId } from '../api/client.ts';
import { deviceZone } from '../format/when.ts';
import { Choice, Text, Checkbox } from '../parts/fields.tsx';
import { Form, Submit, useForm } from '../parts/form.tsx';
import { loadMe } from '../state/session.ts';
import { urgencyWords } from '../words/labels.ts';
import { kinds, notificationChannels } from './channels.ts';

type Draft = Omit<NotificationChannel, 'id' | 'secret'>;
/** A phone sets itself up. */
const byHand = (Object.keys(kinds) as NotificationChannel['kind'][]).filter((kind) => kind !== 'push');
const fresh: Draft = { name: '', kind: 'mail', enabled: true, urgencies: ['now', 'today'], address: '' };

export function NotificationChannelForm({ one, done }: { one?: NotificationChannel; done: () => void }) {
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
      {values.kind !== 'push' && (
        <>
          <Choice
            label="By"
            {...field('kind')}
            options={byHand.map((value) => ({ value, words: kinds[value].words }))}
          />
          <Text label={kind.address} {...field('address')} />
        </>
      )}
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
      <Urgencies {...field('urgencies')} />
      <QuietHours {...field('quietHours')} />
      <Checkbox
        label="Daily digest"
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
  readonly value: NotificationChannel['quietHours'];
  readonly onValue: (value: NotificationChannel['quietHours']) => void;
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

interface UrgenciesProps {
  readonly value: NotificationChannel['urgencies'];
  readonly onValue: (value: NotificationChannel['urgencies']) => void;
}

function Urgencies({ value, onValue }: UrgenciesProps) {
  return (
    <fieldset class="choice">
      <legend>For what needs you</legend>
      {(Object.keys(urgencyWords) as NotificationChannel['urgencies']).map((urgency) => (
        <Checkbox
          key={urgency}
          label={urgencyWords[urgency]}
          value={value.includes(urgency)}
          onValue={(on) => {
            const others = value.filter((each) => each !== urgency);
            onValue(on ? [...others, urgency] : others);
          }}
        />
      ))}
    </fieldset>
  );
}
