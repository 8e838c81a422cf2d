import { useState } from 'preact/hooks';
import { call } from '../api/client.ts';
import { useAct } from '../parts/act.tsx';
import { Text } from '../parts/fields.tsx';
import { me, takeMe } from '../state/session.ts';
import { UnsentNote } from '../visit/unsent-note.tsx';

export default function SignIn() {
  const [name, setName] = useState('');
  const [password, setPassword] = useState('');
  const { busy, words, start } = useAct(async () => {
    takeMe(await call('signIn', { body: { name: name.trim(), password } }));
  });
  return (
    <main class="sign-in">
      <h1>
        {me.value?.farm.farmName !== undefined && me.value.farm.farmName !== ''
          ? me.value.farm.farmName
          : 'Welcomb'}
      </h1>
      <UnsentNote />
      <form
        class="card"
        onSubmit={(event) => {
          event.preventDefault();
          void start();
        }}
      >
        <h2>Sign in</h2>
        <Text label="Name" value={name} onValue={setName} autocomplete="username" />
        <Text
          label="Password"
          type="password"
          value={password}
          onValue={setPassword}
          autocomplete="current-password"
        />
        {words !== '' && (
          <p class="fault" role="alert">
            {words}
          </p>
        )}
        <button type="submit" class="main big" disabled={busy || name.trim() === '' || password === ''}>
          Sign in
        </button>
      </form>
    </main>
  );
}
