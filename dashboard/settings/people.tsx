/** Who may do what, and the keys of programs. */
import { useState } from 'preact/hooks';
import { call } from '../api/client.ts';
import { age } from '../format/when.ts';
import { Act } from '../parts/act.tsx';
import { Choice, Text } from '../parts/fields.tsx';
import { Shown } from '../parts/shown.tsx';
import { Sheet, useSheet } from '../parts/sheet.tsx';
import { serverMinute } from '../state/live.ts';
import { resource } from '../state/resource.ts';
import { roleWords } from '../words/labels.ts';

const never = (): boolean => false;
const people = resource(() => call('listPeople', {}), never);
const tokens = resource(() => call('listTokens', {}), never);

type Role = keyof typeof roleWords;

export function People() {
  return (
    <section class="card" aria-label="People">
      <h2>People</h2>
      <Shown of={people} what="the people">
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
      </Shown>
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
        <Act
          run={async () => {
            await remove();
            sheet.close();
          }}
        >
          Remove
        </Act>
      </Sheet>
    </li>
  );
}

function AddPerson() {
  const [name, setName] = useState('');
  const [role, setRole] = useState<Role>('helper');
  const [password, setPassword] = useState('');
  return (
    <details class="add">
      <summary>Add a person</summary>
      <Text label="Name" value={name} onValue={setName} autocomplete="off" />
      <Choice
        label="May"
        value={role}
        onValue={(value) => {
          setRole(value as Role);
        }}
        options={Object.entries(roleWords).map(([value, words]) => ({ value, words }))}
      />
      <Text
        label="First password"
        type="password"
        autocomplete="new-password"
        value={password}
        onValue={setPassword}
        hint="at least 10 characters; three or four words that do not belong together"
      />
      <Act
        main
        done="Added."
        disabled={name.trim() === '' || password.length < 10}
        run={async () => {
          await call('addPerson', { body: { name: name.trim(), role, password } });
          setName('');
          setPassword('');
          await people.reload();
        }}
      >
        Add
      </Act>
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
      <Shown of={tokens} what="the keys">
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
      </Shown>
      <AddToken />
    </section>
  );
}

function AddToken() {
  const [name, setName] = useState('');
  const [scope, setScope] = useState<keyof typeof scopes>('read');
  const [made, setMade] = useState('');
  return (
    <details class="add">
      <summary>Make a key</summary>
      <Text label="What for" value={name} onValue={setName} />
      <Choice
        label="It may"
        value={scope}
        onValue={(value) => {
          setScope(value as keyof typeof scopes);
        }}
        options={Object.entries(scopes).map(([value, words]) => ({ value, words }))}
      />
      <Act
        main
        disabled={name.trim() === ''}
        run={async () => {
          setMade((await call('addToken', { body: { name: name.trim(), scope } })).token);
          setName('');
          await tokens.reload();
        }}
      >
        Make it
      </Act>
      {made !== '' && (
        <p class="notice" role="status">
          Shown this once: <code class="address">{made}</code>
        </p>
      )}
    </details>
  );
}
