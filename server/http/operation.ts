/** From the contract's table to routes: parse what comes in, call the handler, send what comes out. */
import { Router } from 'express';
import type { Request, RequestHandler, Response } from 'express';
import * as z from 'zod';
import type { Access } from './access/access.ts';
import { requireRole } from './access/access.ts';
import type {
  Operation,
  OperationName,
  Operations,
  ParsedBodyOf,
  ParsedParamsOf,
  ParsedQueryOf,
  ResponseOf,
} from '../contract/index.ts';
import { operations } from '../contract/index.ts';
import { UserError } from '../user-error.ts';
import { parsed } from './problem.ts';
import type { Actor } from '../views/views.ts';

/** What a handler is given: parsed and typed parts of the request, who asks, and the instant. */
interface Call<N extends OperationName> {
  readonly params: ParsedParamsOf<N>;
  readonly query: ParsedQueryOf<N>;
  readonly body: ParsedBodyOf<N>;
  readonly actor: Operations[N]['role'] extends 'anyone' ? Actor | null : Actor;
  readonly nowMs: number;
  readonly request: Request;
  readonly response: Response;
}
/** Lists may be read-only inside; a response is only ever serialised. */
type Loose<T> = T extends readonly (infer I)[]
  ? readonly Loose<I>[]
  : T extends object
    ? { readonly [K in keyof T]: Loose<T[K]> }
    : T;

type Answer<N extends OperationName> = Operations[N] extends { response: z.ZodType }
  ? Loose<ResponseOf<N>>
  : // oxlint-disable-next-line typescript/no-invalid-void-type -- a handler without an answer returns nothing
    void;
export type Handler<N extends OperationName> = (call: Call<N>) => Answer<N> | Promise<Answer<N>>;
/** One handler for every operation: the compiler names the one that is missing. */
export type Handlers = { readonly [N in OperationName]: Handler<N> };

/** Gives a handler the types of its operation; routes are collected from these. */
export function implement<N extends OperationName>(
  name: N,
  handler: Handler<N>,
): { readonly [K in N]: Handler<N> } {
  return { [name]: handler } as { readonly [K in N]: Handler<N> };
}

export interface ServeOptions {
  readonly access: Access;
  readonly nowMs: () => number;
  /** Who did what: called after every change that went through. */
  readonly record: (actor: Actor | null, what: string) => void;
  /** Tests: check every answer against the contract, and fail the request where it does not hold. */
  readonly checkResponses: boolean;
}

const partOf = (what: 'address' | 'query' | 'body', schema: z.ZodType | undefined, value: unknown): unknown =>
  schema ? parsed(what, schema, value) : undefined;

/** A body has to say that it is JSON: forms on other people's pages can't. */
function bodyOf(request: Request, operation: Operation): unknown {
  if (!operation.body) return undefined;
  if (!request.is('application/json'))
    throw new UserError('unsupported-media-type', 'Send the body as application/json.');
  return request.body as unknown;
}

function checked(name: OperationName, operation: Operation, answer: unknown): unknown {
  if (!operation.response) return answer;
  const result = z.safeParse(operation.response, answer);
  if (!result.success)
    throw new Error(`${name} answers what the contract does not say: ${result.error.message}`);
  return result.data;
}

/** They take a body and change nothing, or note by themselves what happened. */
const changeNothing: ReadonlySet<OperationName> = new Set([
  'tryMapping',
  'previewBatch',
  'replay',
  'lookAtBackup',
  'calendarLink',
  'signIn',
  'signOut',
  'setPassword',
  'changePassword',
]);

function routeOf(name: OperationName, handler: Handler<never>, options: ServeOptions): RequestHandler {
  const operation: Operation = operations[name];
  return async (request, response) => {
    const actor = requireRole(options.access.whoAsks(request), operation.role);
    const call = {
      params: partOf('address', operation.params, request.params),
      query: partOf('query', operation.query, request.query),
      body: partOf('body', operation.body, bodyOf(request, operation)),
      actor,
      nowMs: options.nowMs(),
      request,
      response,
    };
    const answer: unknown = await (handler as (call: unknown) => unknown)(call);
    if (operation.method !== 'get' && !changeNothing.has(name)) {
      // After the semicolon it is about how to call it.
      const [what = ''] = operation.summary.split(';');
      options.record(actor, `${what} (${request.method} ${request.path})`);
    }
    if (operation.response === undefined) response.status(204).end();
    else if (options.checkResponses) response.json(checked(name, operation, answer));
    else response.json(answer);
  };
}

/** Routes of all operations, below `/api/v1`. */
export function operationRoutes(handlers: Handlers, options: ServeOptions): Router {
  const router = Router();
  for (const name of Object.keys(operations) as OperationName[]) {
    const { method, path } = operations[name];
    router[method](
      path.replace(/\{(\w+)\}/g, ':$1'),
      routeOf(name, handlers[name] as Handler<never>, options),
    );
  }
  return router;
}
