/** Errors as RFC 9457 problem documents: what was wrong, where, and what to do. */
import { STATUS_CODES } from 'node:http';
import type { ErrorRequestHandler, RequestHandler, Response } from 'express';
import type { Logger } from 'pino';
import type { z } from 'zod';
import { StoreConflict, StoreUnavailable } from '../store/errors.ts';
import type { Problem } from './contract/common.ts';

export interface Fault {
  /** JSON Pointer (RFC 6901) as a URI fragment, as in RFC 9457's own example: `#/entries/0/id`. */
  readonly pointer: string;
  readonly detail: string;
}

/** A request that is understood and can't be done. The detail is one sentence for the person who asked. */
export class Refusal extends Error {
  override readonly name = 'Refusal';
  readonly status: number;
  readonly faults: readonly Fault[];
  readonly headers: Readonly<Record<string, string>>;

  constructor(
    status: number,
    detail: string,
    more: { faults?: readonly Fault[]; headers?: Record<string, string> } = {},
  ) {
    super(detail);
    this.status = status;
    this.faults = more.faults ?? [];
    this.headers = more.headers ?? {};
  }
}

export const notThere = (what: string, id: string | number): Refusal =>
  new Refusal(404, `There is no ${what} ${String(id)}.`);

/** Sends the value, or the 404 that names what was asked for. */
export function found<T>(value: T | undefined | null, what: string, id: string | number): T {
  if (value === undefined || value === null) throw notThere(what, id);
  return value;
}

export const pointerTo = (path: readonly PropertyKey[]): string =>
  `#${path.map((step) => `/${encodeURI(String(step).replaceAll('~', '~0').replaceAll('/', '~1'))}`).join('')}`;

/** What a schema found wrong with the `what` of a request. */
function invalid(what: 'address' | 'query' | 'body', error: z.ZodError): Refusal {
  const faults = error.issues.map((issue) => ({ pointer: pointerTo(issue.path), detail: issue.message }));
  const first = faults[0];
  const where = first && first.pointer !== '#' ? ` at ${first.pointer}` : '';
  return new Refusal(
    400,
    `The ${what} of this request is not right${where}: ${first?.detail ?? 'see errors'}.`,
    {
      faults,
    },
  );
}

/** The part of a request as its schema reads it. Throws `Refusal`. */
export function parsed<S extends z.ZodType>(
  what: 'address' | 'query' | 'body',
  schema: S,
  value: unknown,
): z.output<S> {
  const result = schema.safeParse(value);
  if (!result.success) throw invalid(what, result.error);
  return result.data;
}

export function sendProblem(response: Response, refusal: Refusal): void {
  const problem: Problem = {
    type: 'about:blank',
    title: STATUS_CODES[refusal.status] ?? 'Error',
    status: refusal.status,
    detail: refusal.message,
    instance: response.req.originalUrl.split('?')[0] ?? '/',
    ...(refusal.faults.length > 0 ? { errors: [...refusal.faults] } : {}),
  };
  response.status(refusal.status).set(refusal.headers);
  // Problems are about this moment: no cache may answer with them later.
  response.set('Cache-Control', 'no-store').type('application/problem+json').send(JSON.stringify(problem));
}

export const unknownRoute: RequestHandler = (request, response) => {
  const path = request.originalUrl.split('?')[0] ?? '/';
  sendProblem(response, new Refusal(404, `There is nothing at ${request.method} ${path}.`));
};

/** Errors of the body parser and of Express, by their `type`. */
const parserErrors: Readonly<Record<string, readonly [number, string]>> = {
  'entity.too.large': [413, 'The body of this request is too large.'],
  'entity.parse.failed': [400, 'The body of this request is not JSON.'],
  'encoding.unsupported': [415, 'The body of this request is encoded in a way that is not supported.'],
  'charset.unsupported': [415, 'The body of this request has to be UTF-8.'],
  'request.size.invalid': [400, 'The body of this request is not as long as it says.'],
  'request.aborted': [400, 'The request broke off.'],
};

/** What an error means to the one who asked; undefined for a fault of ours. */
function refusalOf(error: unknown): Refusal | undefined {
  if (error instanceof Refusal) return error;
  if (error instanceof StoreConflict) return new Refusal(409, error.message);
  if (error instanceof StoreUnavailable) {
    return new Refusal(503, error.message, { headers: { 'Retry-After': '10' } });
  }
  if (error instanceof URIError) return new Refusal(400, 'The address of this request can’t be decoded.');
  const type = error instanceof Error && 'type' in error ? error.type : undefined;
  const known = typeof type === 'string' ? parserErrors[type] : undefined;
  return known ? new Refusal(known[0], known[1]) : undefined;
}

/** The last middleware: every error becomes a problem; only our own faults are logged, with their stack. */
export function problems(log: Logger): ErrorRequestHandler {
  return (error: unknown, request, response, next) => {
    const refusal = refusalOf(error);
    if (!refusal) log.error({ err: error, method: request.method, path: request.path }, 'a request failed');
    if (response.headersSent) {
      next(error);
      return;
    }
    sendProblem(response, refusal ?? new Refusal(500, 'The server made a mistake; its log says which.'));
  };
}
