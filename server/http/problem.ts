/** Errors as RFC 9457 problem documents: what was wrong, where, and what to do. */
import { STATUS_CODES } from 'node:http';
import type { ErrorRequestHandler, RequestHandler, Response } from 'express';
import type { Logger } from 'pino';
import type * as z from 'zod';
import type { Problem } from '../contract/common.ts';
import { nestedTooDeep } from '../json-text.ts';
import '../plain-faults.ts';
import { UserError, type UserErrorCode } from '../user-error.ts';

/** The status of each code: errors get one here and nowhere else. */
export const statusOf: Readonly<Record<UserErrorCode, number>> = {
  'invalid-input': 400,
  'sign-in-required': 401,
  'wrong-password': 401,
  'invalid-token': 401,
  'not-allowed': 403,
  'setup-code-required': 403,
  'this-machine-only': 403,
  'foreign-origin': 403,
  'not-found': 404,
  'body-too-slow': 408,
  conflict: 409,
  'length-required': 411,
  'too-large': 413,
  'unsupported-media-type': 415,
  'unknown-host': 421,
  'unusable-file': 422,
  'too-many-attempts': 429,
  'internal-error': 500,
  'cannot-start': 500,
  busy: 503,
  'store-unavailable': 503,
};
const bearer = { 'WWW-Authenticate': 'Bearer' };
const headersOf: Partial<Readonly<Record<UserErrorCode, Readonly<Record<string, string>>>>> = {
  'sign-in-required': bearer,
  'invalid-token': { 'WWW-Authenticate': 'Bearer error="invalid_token"' },
  'wrong-password': bearer,
  'body-too-slow': { Connection: 'close' },
};

export const pointerTo = (path: readonly PropertyKey[]): string =>
  `#${path.map((step) => `/${encodeURI(String(step).replaceAll('~', '~0').replaceAll('/', '~1'))}`).join('')}`;

/** What a schema found wrong with the `what` of a request. */
function invalid(what: 'address' | 'query' | 'body', error: z.ZodError): UserError {
  const faults = error.issues.map((issue) => ({ pointer: pointerTo(issue.path), detail: issue.message }));
  const first = faults[0];
  const where = first && first.pointer !== '#' ? ` at ${first.pointer}` : '';
  return new UserError(
    'invalid-input',
    `The ${what} of this request is not right${where}: ${first?.detail ?? 'see errors'}.`,
    {
      faults,
    },
  );
}

/** The part of a request as its schema reads it. Throws `UserError`. */
export function parsed<S extends z.ZodType>(
  what: 'address' | 'query' | 'body',
  schema: S,
  value: unknown,
): z.output<S> {
  const result = schema.safeParse(value);
  if (!result.success) throw invalid(what, result.error);
  return result.data;
}

export function sendProblem(response: Response, error: UserError): void {
  const status = statusOf[error.code];
  const problem: Problem = {
    type: error.code,
    title: STATUS_CODES[status] ?? 'Error',
    status,
    detail: error.message,
    instance: response.req.originalUrl.split('?')[0] ?? '/',
    ...(error.faults.length > 0 ? { errors: [...error.faults] } : {}),
  };
  response.status(status).set(headersOf[error.code] ?? {});
  if (error.retryAfterS !== undefined) response.set('Retry-After', String(error.retryAfterS));
  // Problems are about this moment: no cache may answer with them later.
  response.set('Cache-Control', 'no-store').type('application/problem+json').send(JSON.stringify(problem));
}

export const unknownRoute: RequestHandler = (request, response) => {
  const path = request.originalUrl.split('?')[0] ?? '/';
  sendProblem(response, new UserError('not-found', `There is nothing at ${request.method} ${path}.`));
};

/** Errors of the body parser and of Express, by their `type`. */
const parserErrors: Readonly<Record<string, readonly [UserErrorCode, string]>> = {
  'entity.too.large': ['too-large', 'The body of this request is too large.'],
  'entity.parse.failed': ['invalid-input', 'The body of this request is not JSON.'],
  'json.nested': ['invalid-input', `The body of this request can’t be read: ${nestedTooDeep}.`],
  'encoding.unsupported': [
    'unsupported-media-type',
    'The body of this request is encoded in a way that is not supported.',
  ],
  'charset.unsupported': ['unsupported-media-type', 'The body of this request has to be UTF-8.'],
  'request.size.invalid': ['invalid-input', 'The body of this request is not as long as it says.'],
  'request.aborted': ['invalid-input', 'The request broke off.'],
};

/** What an error means to the one who asked; undefined for a fault of ours. */
function userErrorOf(error: unknown): UserError | undefined {
  if (error instanceof UserError) return error;
  if (error instanceof URIError)
    return new UserError('invalid-input', 'The address of this request can’t be decoded.');
  const type = error instanceof Error && 'type' in error ? error.type : undefined;
  const known = typeof type === 'string' ? parserErrors[type] : undefined;
  if (known) return new UserError(...known);
  // What a decompressor says is marked by its status alone.
  return error instanceof Error && 'status' in error && error.status === 400
    ? new UserError('invalid-input', 'The body of this request can’t be read: it is not encoded as it says.')
    : undefined;
}

/** The last middleware: every error becomes a problem; only our own faults are logged, with their stack. */
export function problems(log: Logger): ErrorRequestHandler {
  return (error: unknown, request, response, next) => {
    const userError = userErrorOf(error);
    if (!userError) log.error({ err: error, method: request.method, path: request.path }, 'a request failed');
    if (response.headersSent) {
      next(error);
      return;
    }
    sendProblem(
      response,
      userError ?? new UserError('internal-error', 'The server made a mistake; its log says which.'),
    );
  };
}
