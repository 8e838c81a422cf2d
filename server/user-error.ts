/** Errors for whoever asked: a stable code for programs, one sentence for people. Any room may throw them. */

/** Every code with what it means, for the API's description and the guide. Codes are never renamed. */
export const userErrorCodes = {
  'invalid-input': 'The input is not as asked for; `errors` names the places.',
  'not-found': 'There is nothing of that name or id.',
  conflict: 'It contradicts what is stored; nothing was changed.',
  'sign-in-required': 'Sign in, or send an API key.',
  'wrong-password': 'Name and password do not fit together.',
  'invalid-token': 'The API key does not exist or was taken back.',
  'not-allowed': 'The role of this person or API key does not suffice.',
  'setup-code-required': 'Before there is a password: give the code that the server printed when it started.',
  'this-machine-only': 'Until a password is set, only this machine and devices at home are served.',
  'foreign-origin': 'The request came from a page of another site, or lacks the session’s proof.',
  'unknown-host': 'The server does not answer to that host name.',
  'too-many-attempts': 'Too many attempts: wait as long as `Retry-After` says.',
  busy: 'Too much is under way: try again as `Retry-After` says.',
  'too-large': 'The body, a line or a file is too large.',
  'length-required': 'The length of the body has to be given.',
  'unsupported-media-type': 'The body has a type or encoding that is not supported.',
  'body-too-slow': 'The body took too long to arrive.',
  'unusable-file': 'The file is damaged, foreign or too new; nothing was changed.',
  'store-unavailable': 'Nothing can be stored at the moment; the same call may succeed later.',
  'cannot-start': 'The server can’t start with these settings.',
  'internal-error': 'A fault of the server; its log says which.',
} as const satisfies Readonly<Record<string, string>>;
export type UserErrorCode = keyof typeof userErrorCodes;

/** One place in the input that is wrong. */
export interface Fault {
  /** JSON Pointer (RFC 6901) as a URI fragment, as in RFC 9457's own example: `#/entries/0/id`. */
  readonly pointer: string;
  readonly detail: string;
}

interface UserErrorDetails {
  readonly faults?: readonly Fault[];
  /** After how long the same may succeed. */
  readonly retryAfterS?: number;
  readonly cause?: unknown;
}

/** What was asked is understood and can't be done. The message is one sentence: what, where, what to do. */
export class UserError extends Error {
  override readonly name: string = 'UserError';
  readonly code: UserErrorCode;
  readonly faults: readonly Fault[];
  readonly retryAfterS: number | undefined;

  constructor(code: UserErrorCode, message: string, details: UserErrorDetails = {}) {
    super(message, 'cause' in details ? { cause: details.cause } : undefined);
    this.code = code;
    this.faults = details.faults ?? [];
    this.retryAfterS = details.retryAfterS;
  }
}

/** What the system says of a file or folder, after a colon. */
const fileFaults: Readonly<Partial<Record<string, string>>> = {
  ENOENT: 'there is no such file or folder',
  EEXIST: 'a file stands in its place',
  ENOTDIR: 'a part of its path is a file',
  EISDIR: 'it is a folder',
  EACCES: 'this user has no right to it',
  EPERM: 'this user has no right to it',
  EROFS: 'its disk is read-only',
  ENOSPC: 'its disk is full',
  EIO: 'its disk reports an error',
  ELOOP: 'its links lead in a circle',
  ENAMETOOLONG: 'its name is too long',
};

/** Why a file or folder can't be used, in words where they are known. */
export function fileFault(error: unknown): string {
  if (!(error instanceof Error)) return String(error);
  return ('code' in error ? fileFaults[String(error.code)] : undefined) ?? error.message;
}

export const notFound = (what: string, id: string | number): UserError =>
  new UserError('not-found', `There is no ${what} ${String(id)}.`);

/** The value; throws `not-found` naming what was asked for where there is none. */
export function orNotFound<T>(value: T | undefined | null, what: string, id: string | number): T {
  if (value === undefined || value === null) throw notFound(what, id);
  return value;
}
