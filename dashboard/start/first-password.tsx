import { call } from '../api/client.ts';
import { Text } from '../parts/fields.tsx';
import { Form, Submit, useForm } from '../parts/form.tsx';
import { takeMe } from '../state/session.ts';
import { SetupCode } from './setup-code.tsx';

export function FirstPassword() {
  const form = useForm({ name: '', password: '', code: '' }, async ({ name, password, code }) => {
    takeMe(await call('setPassword', { body: { name: name.trim(), password, code: code.trim() } }));
  });
  const { values, field } = form;
  return (
    <>
      <p>
        Until there is one, only this very machine is let in. With it, your phone can reach the page as well.
        It can’t be read back: write it down.
      </p>
      <Form of={form}>
        <Text label="Your name" {...field('name')} autocomplete="username" />
        <Text
          label="Password"
          type="password"
          {...field('password')}
          autocomplete="new-password"
          hint="at least 10 characters; three or four words that do not belong together are good"
        />
        <SetupCode {...field('code')} />
        <Submit
          of={form}
          disabled={values.name.trim() === '' || values.password.length < 10 || values.code.trim() === ''}
        >
          Set it
        </Submit>
      </Form>
    </>
  );
}
