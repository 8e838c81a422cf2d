import { call } from '../api/client.ts';
import { Text } from '../parts/fields.tsx';
import { BigSubmit, Form, useForm } from '../parts/form.tsx';
import { me, takeMe } from '../state/session.ts';
import { UnsentNote } from '../visit/unsent-note.tsx';

export default function SignIn() {
  const form = useForm({ name: '', password: '' }, async ({ name, password }) => {
    takeMe(await call('signIn', { body: { name: name.trim(), password } }));
  });
  const { values, field } = form;
  return (
    <main class="sign-in">
      <h1>
        {me.value?.farm.farmName !== undefined && me.value.farm.farmName !== ''
          ? me.value.farm.farmName
          : 'Welcomb'}
      </h1>
      <UnsentNote />
      <Form of={form} class="card">
        <h2>Sign in</h2>
        <Text label="Name" {...field('name')} autocomplete="username" />
        <Text label="Password" type="password" {...field('password')} autocomplete="current-password" />
        <BigSubmit of={form} disabled={values.name.trim() === '' || values.password === ''}>
          Sign in
        </BigSubmit>
      </Form>
    </main>
  );
}
