/** Setting the first password, signing in and out. */
import * as account from '../account.ts';
import type { Operation } from './operation.ts';

export const accountOperations = {
  me: {
    method: 'get',
    path: '/me',
    role: 'anyone',
    summary: 'Who is signed in and what is set up',
    response: account.meSchema,
  },
  setPassword: {
    method: 'post',
    path: '/password',
    role: 'anyone',
    summary: 'First run: the keeper’s name and password',
    body: account.firstPasswordSchema,
    response: account.meSchema,
  },
  changePassword: {
    method: 'post',
    path: '/password/change',
    role: 'viewer',
    summary: 'A new password for the person who asks',
    body: account.passwordChangeSchema,
    response: account.meSchema,
  },
  signIn: {
    method: 'post',
    path: '/session',
    role: 'anyone',
    summary: 'Sign in',
    body: account.signInSchema,
    response: account.meSchema,
  },
  signOut: { method: 'delete', path: '/session', role: 'anyone', summary: 'Sign out' },
} as const satisfies Record<string, Operation>;
