/** Who may publish to the built-in broker. */
import { call } from '../api/client.ts';
import { age } from '../format/when.ts';
import { ActionButton } from '../parts/action-button.tsx';
import { Text, Checkbox } from '../parts/fields.tsx';
import { Form, Submit, useForm } from '../parts/form.tsx';
import { Sheet, useSheet } from '../parts/sheet.tsx';
import { EmptyState, ResourceView } from '../parts/resource-view.tsx';
import { serverMinute } from '../state/live.ts';
import { resource } from '../state/resource.ts';

const devices = resource(() => call('listDevices', {}));

export function Devices() {
  return (
    <>
      <p class="soft">
        Until the first device is made, programs on the server’s own machine may publish without a password.
        From then on everyone needs a name and a password.
      </p>
      <ResourceView of={devices} what="the devices">
        {(data) => (
          <>
            {data.items.length === 0 && <EmptyState title="No device has a password yet." />}
            <ul class="plain-list">
              {data.items.map((one) => (
                <li key={one.name}>
                  <p>
                    <b>
                      <bdi>{one.name}</bdi>
                    </b>{' '}
                    <span class="soft">
                      {one.lastSeenAt === null
                        ? 'never connected'
                        : `connected ${age(serverMinute.value - Date.parse(one.lastSeenAt))} ago`}
                      {one.ownTopicsOnly && ', its own topics only'}
                    </span>
                  </p>
                  <Remove name={one.name} />
                </li>
              ))}
            </ul>
            <AddDevice />
          </>
        )}
      </ResourceView>
    </>
  );
}

function Remove({ name }: { name: string }) {
  const sheet = useSheet();
  return (
    <>
      <button type="button" onClick={sheet.show}>
        Shut out …<span class="hidden-words"> {name}</span>
      </button>
      <Sheet of={sheet} title={`Shut ${name} out?`}>
        <p>It can’t publish any more until it is made again, with a new password.</p>
        <ActionButton
          run={async () => {
            await call('deleteDevice', { params: { name } });
            await devices.reload();
          }}
        >
          Shut it out
        </ActionButton>
      </Sheet>
    </>
  );
}

function AddDevice() {
  const form = useForm(
    { name: '', password: '', ownTopicsOnly: true },
    async ({ name, ...rest }) => {
      await call('addDevice', { body: { name: name.trim(), ...rest } });
      await devices.reload();
    },
    { saved: 'It may publish now.', resets: true },
  );
  const { values, field } = form;
  return (
    <details class="add">
      <summary>Add a device</summary>
      <Form of={form}>
        <Text label="Name" {...field('name')} />
        <Text
          label="Password"
          type="password"
          autocomplete="new-password"
          {...field('password')}
          hint="at least 8 characters; put it into the device"
        />
        <Checkbox
          label="Only its own topics"
          hint="welcomb/<its name>/…; not for a gateway"
          {...field('ownTopicsOnly')}
        />
        <Submit of={form} disabled={values.name.trim() === '' || values.password.length < 8}>
          Add it
        </Submit>
      </Form>
    </details>
  );
}
