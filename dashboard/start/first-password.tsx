import { useState } from 'preact/hooks';
import { call } from '../api/client.ts';
import { Act } from '../parts/act.tsx';
import { Text } from '../parts/fields.tsx';
import { takeMe } from '../state/session.ts';
import { SetupCode } from './setup-code.tsx';

export function FirstPassword() {
  const [name, setName] = useState('');
  const [password, setPassword] = useState('');
  const [code, setCode] = useState('');
  return (
    <>
      <p>
        Until there is one, only this very machine is let in. With it, your phone can reach the page as well.
        It can’t be read back: write it down.
      </p>
      <Text label="Your name" value={name} onValue={setName} autocomplete="username" />
      <Text
        label="Password"
        type="password"
        value={password}
        onValue={setPassword}
        autocomplete="new-password"
        hint="at least 10 characters; three or four words that do not belong together are good"
      />
      <SetupCode value={code} onValue={setCode} />
      <Act
        main
        disabled={name.trim() === '' || password.length < 10 || code.trim() === ''}
        run={async () => {
          takeMe(await call('setPassword', { body: { name: name.trim(), password, code: code.trim() } }));
        }}
      >
        Set it
      </Act>
    </>
  );
}
