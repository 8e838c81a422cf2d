/** Limits against guessing and against bodies that never end. */
import type { RequestHandler } from 'express';
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
