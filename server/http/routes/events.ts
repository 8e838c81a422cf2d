/** The stream of live updates (server-sent events). A `Last-Event-ID` is no use and no harm: pages ask anew. */
import type { RequestHandler } from 'express';
import type { Access } from '../access/access.ts';
import { requireRole } from '../access/access.ts';
import type { AppDeps } from '../deps.ts';
import { UserError } from '../../user-error.ts';
import { iso } from '../../farm/wire.ts';

const tooMany = 'Too many pages listen already: close some and try again.';

/** Of the hundred streams there are. A page keeps one open; behind a proxy that is not trusted all have one address. */
const mostAWay = 10;
const mostAPerson = 20;
const mostAnAddress = 60;

export function eventStream({ events, nowMs, version }: AppDeps, access: Access): RequestHandler {
  return (request, response) => {
    const mayListen = (): boolean => access.whoAsks(request).kind === 'known';
    const visitor = access.whoAsks(request);
    requireRole(visitor, 'viewer');
    const shares =
      visitor.kind === 'known'
        ? [
            { key: visitor.shares.way, most: mostAWay },
            { key: `person ${visitor.shares.person}`, most: mostAPerson },
            { key: `address ${request.ip ?? ''}`, most: mostAnAddress },
          ]
        : [];
    response.set({
      'Content-Type': 'text/event-stream; charset=utf-8',
      'Cache-Control': 'no-store',
      // Some reverse proxies hold an answer back until it is whole, unless they are told.
      'X-Accel-Buffering': 'no',
    });
    const hello = { type: 'hello', time: iso(nowMs()), version } as const;
    if (!events.join(response, hello, { stillAllowed: mayListen, shares })) {
      throw new UserError('busy', tooMany, { retryAfterS: 30 });
    }
    response.once('close', () => {
      events.leave(response);
    });
  };
}
