/** Who is signed in. */
import { useState } from 'preact/hooks';
import { call } from '../api/client.ts';
import { ActionButton } from '../parts/action-button.tsx';
import { Text, Checkbox } from '../parts/fields.tsx';
import { loadMe, me, takeMe } from '../state/session.ts';
import { roleWords } from '../words/labels.ts';
import { keep } from '../state/preferences.ts';

export function You() {
  const now = me.value;
  if (now?.signedIn !== true || now.role === null) return null;
  return (
    <section class="card" aria-label="You">
      <h2>You</h2>
      <p>
        {now.passwordSet && (
          <>
            <bdi>{now.name}</bdi>,{' '}
          </>
        )}
        {roleWords[now.role]}
      </p>
      {now.passwordSet ? (
        <ActionButton
          run={async () => {
            await call('signOut', {});
            keep('welcomb.nucs', '[]');
            await loadMe();
          }}
        >
          Sign out
        </ActionButton>
      ) : (
        <p class="soft">No password is set: nobody has to sign in.</p>
      )}
      {now.csrf !== null && <ChangePassword />}
    </section>
  );
}

function ChangePassword() {
  const [current, setCurrent] = useState('');
  const [password, setPassword] = useState('');
  const [keepTokens, setKeepTokens] = useState(false);
  return (
    <details class="add">
      <summary>Change your password</summary>
      <p class="soft">
        You stay signed in here and are signed out everywhere else. The address of your calendar ends too.
      </p>
      <Text
        label="Password now"
        type="password"
        autocomplete="current-password"
        value={current}
        onValue={setCurrent}
      />
      <Text
        label="New password"
        type="password"
        autocomplete="new-password"
        value={password}
        onValue={setPassword}
        hint="at least 10 characters; three or four words that do not belong together"
      />
      <Checkbox
        label="Keep the keys that I made for programs"
        hint="Leave it unticked if somebody may know the password: they may have made a key."
        value={keepTokens}
        onValue={setKeepTokens}
      />
      <ActionButton
        main
        done="Changed."
        disabled={current === '' || password.length < 10}
        run={async () => {
          takeMe(await call('changePassword', { body: { current, password, keepTokens } }));
          setCurrent('');
          setPassword('');
        }}
      >
        Change it
      </ActionButton>
    </details>
  );
}
