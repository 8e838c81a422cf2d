/** Limits against guessing and against bodies that never end. */
import type { Request, RequestHandler } from 'express';
import { rateLimit } from 'express-rate-limit';
import { isNestedTooDeep } from '../../json-text.ts';
import { UserError } from '../../user-error.ts';
import { sendProblem } from '../problem.ts';

const windowMs = 15 * 60_000;
export const wrongPasswords = 10;

/** Ten wrong passwords from one address in a quarter of an hour; right ones do not count. */
export const passwordLimit = (): RequestHandler =>
  rateLimit({
    windowMs,
    limit: wrongPasswords,
    skipSuccessfulRequests: true,
    skip: (request) => request.method !== 'POST',
    standardHeaders: 'draft-8',
    legacyHeaders: false,
    // The proxy settings are checked at the start; this check would write to the console.
    validate: false,
    handler: (_request, response) => {
      const detail = 'Too many wrong passwords from this address: wait a quarter of an hour.';
      sendProblem(response, new UserError('too-many-attempts', detail, { retryAfterS: windowMs / 1000 }));
    },
  });

/** For the body parser, before it parses: a body that is no UTF-8, or nested too deep. Throws what `problems` knows. */
export function checkJsonBody(_request: unknown, _response: unknown, body: Buffer, encoding: string): void {
  const refuse = (type: string): never => {
    throw Object.assign(new Error(type), { type });
  };
  if (encoding !== 'utf-8') refuse('charset.unsupported');
  // Brackets and quotes are single bytes in UTF-8.
  if (isNestedTooDeep(body.toString('latin1'))) refuse('json.nested');
}

const accountWindowMs = 3_600_000;
export const wrongForAccount = 30;
const mostFamiliar = 1000;

/** From where people signed in since the start: whoever shuts an account by guessing does not shut its owner out. */
export interface FamiliarAddresses {
  note(name: string, address: string | undefined): void;
  has(name: string, address: string | undefined): boolean;
}

export function familiarAddresses(): FamiliarAddresses {
  const known = new Set<string>();
  const keyOf = (name: string, address: string | undefined): string => `${address ?? ''} ${name}`;
  return {
    note(name, address) {
      const key = keyOf(name, address);
      // Again at the end: the one that was not used for longest makes room.
      known.delete(key);
      known.add(key);
      if (known.size <= mostFamiliar) return;
      const [oldest] = known;
      if (oldest !== undefined) known.delete(oldest);
    },
    has: (name, address) => known.has(keyOf(name, address)),
  };
}

/**
 * Thirty wrong passwords for one account in an hour, from whatever addresses; names that nobody has count alike, so that
 * nothing is learnt. Addresses from which the account was signed in to are held to the limit of addresses alone.
 *
 * @param accountOf the account that a request tries a password of, if any
 */
export const accountLimit = (
  accountOf: (request: Request) => string | undefined,
  familiar: FamiliarAddresses,
): RequestHandler =>
  rateLimit({
    windowMs: accountWindowMs,
    limit: wrongForAccount,
    skipSuccessfulRequests: true,
    skip: (request) => {
      const account = accountOf(request);
      return account === undefined || familiar.has(account, request.ip);
    },
    keyGenerator: (request) => accountOf(request) ?? '',
    standardHeaders: false,
    legacyHeaders: false,
    validate: false,
    handler: (_request, response) => {
      const detail =
        'Too many wrong passwords for this name: wait an hour, or sign in where you have signed in before.';
      sendProblem(
        response,
        new UserError('too-many-attempts', detail, { retryAfterS: accountWindowMs / 1000 }),
      );
    },
  });

/** A body has to be there whole within `ms` of its head. */
export function bodyDeadline(ms: number): RequestHandler {
  return (request, response, next) => {
    const { headers } = request;
    if (headers['content-length'] === undefined && headers['transfer-encoding'] === undefined) {
      next();
      return;
    }
    const timer = setTimeout(() => {
      if (response.headersSent) return;
      response.once('finish', () => request.socket.destroy());
      sendProblem(
        response,
        new UserError('body-too-slow', 'The body of this request took too long to arrive.'),
      );
    }, ms);
    const done = (): void => {
      clearTimeout(timer);
    };
    request.once('end', done).once('close', done);
    next();
  };
}
