/** Who may do what, and the keys of programs. */
import { useState } from 'preact/hooks';
import { call, newId } from '../api/client.ts';
import { age } from '../format/when.ts';
import { ActionButton } from '../parts/action-button.tsx';
import { Choice, Text, optionsOf } from '../parts/fields.tsx';
import { Form, Submit, useForm } from '../parts/form.tsx';
import { ResourceView } from '../parts/resource-view.tsx';
import { Sheet, useSheet } from '../parts/sheet.tsx';
import { serverMinute } from '../state/live.ts';
import { resource } from '../state/resource.ts';
import { roleWords } from '../words/labels.ts';

const people = resource(() => call('listPeople', {}));
const tokens = resource(() => call('listTokens', {}));

type Role = keyof typeof roleWords;

export function People() {
  return (
    <section class="card" aria-label="People">
      <h2>People</h2>
      <ResourceView of={people} what="the people">
        {(data) => (
          <ul class="plain-list">
            {data.items.map((one) => (
              <Named
                key={one.id}
                name={one.name}
                about={roleWords[one.role]}
                title={`Remove ${one.name}?`}
                words="Their sign-in ends at once. What they logged stays."
                remove={async () => {
                  await call('deletePerson', { params: { id: one.id } });
                  await people.reload();
                }}
              />
            ))}
          </ul>
        )}
      </ResourceView>
      <AddPerson />
    </section>
  );
}

interface NamedProps {
  readonly name: string;
  readonly about: string;
  /** Asked before it is removed, and what comes of that. */
  readonly title: string;
  readonly words: string;
  readonly remove: () => Promise<void>;
}

/** Somebody or something that is let in by name, until it is removed. */
function Named({ name, about, title, words, remove }: NamedProps) {
  const sheet = useSheet();
  return (
    <li>
      <p>
        <b>
          <bdi>{name}</bdi>
        </b>{' '}
        <span class="soft">{about}</span>
      </p>
      <button type="button" onClick={sheet.show}>
        Remove …<span class="hidden-words"> {title}</span>
      </button>
      <Sheet of={sheet} title={title}>
        <p>{words}</p>
        <ActionButton
          run={async () => {
            await remove();
            sheet.close();
          }}
        >
          Remove
        </ActionButton>
      </Sheet>
    </li>
  );
}

function AddPerson() {
  const form = useForm(
    { name: '', role: 'helper' as Role, password: '' },
    async ({ name, ...rest }) => {
      await call('addPerson', { body: { name: name.trim(), ...rest } });
      await people.reload();
    },
    { saved: 'Added.', resets: true },
  );
  const { values, field } = form;
  return (
    <details class="add">
      <summary>Add a person</summary>
      <Form of={form}>
        <Text label="Name" {...field('name')} autocomplete="off" />
        <Choice label="May" {...field('role')} options={optionsOf(roleWords)} />
        <Text
          label="First password"
          type="password"
          autocomplete="new-password"
          {...field('password')}
          hint="at least 10 characters; three or four words that do not belong together"
        />
        <Submit of={form} disabled={values.name.trim() === '' || values.password.length < 10}>
          Add
        </Submit>
      </Form>
    </details>
  );
}

const scopes = { read: 'read', log: 'read, and log visits', all: 'everything' } as const;

export function Tokens() {
  return (
    <section class="card" aria-label="Keys for programs">
      <h2>Keys for programs</h2>
      <p class="soft">
        A program that reads or writes through the API shows such a key instead of a password.
      </p>
      <ResourceView of={tokens} what="the keys">
        {(data) => (
          <ul class="plain-list">
            {data.items.map((one) => (
              <Named
                key={one.id}
                name={one.name}
                about={`made by ${one.owner}; may ${scopes[one.scope]}; ${
                  one.lastUsedAt === null
                    ? 'never used'
                    : `used ${age(serverMinute.value - Date.parse(one.lastUsedAt))} ago`
                }`}
                title={`Take back the key ${one.name}?`}
                words="The program that uses it is shut out at once."
                remove={async () => {
                  await call('deleteToken', { params: { id: one.id } });
                  await tokens.reload();
                }}
              />
            ))}
          </ul>
        )}
      </ResourceView>
      <AddToken />
    </section>
  );
}

function AddToken() {
  const [made, setMade] = useState('');
  // Sent again after an answer that was lost, it is the same key.
  const [id, setId] = useState(newId);
  const form = useForm(
    { name: '', scope: 'read' as keyof typeof scopes },
    async ({ name, scope }) => {
      setMade((await call('addToken', { body: { id, name: name.trim(), scope } })).token);
      setId(newId());
      await tokens.reload();
    },
    { resets: true },
  );
  return (
    <details class="add">
      <summary>Make a key</summary>
      <Form of={form}>
        <Text label="What for" {...form.field('name')} />
        <Choice label="It may" {...form.field('scope')} options={optionsOf(scopes)} />
        <Submit of={form} disabled={form.values.name.trim() === ''}>
          Make it
        </Submit>
      </Form>
      {made !== '' && (
        <p class="notice" role="status">
          Shown this once: <code class="address">{made}</code>
        </p>
      )}
    </details>
  );
}
