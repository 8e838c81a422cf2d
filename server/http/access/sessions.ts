/** Sessions: a random secret in a cookie that scripts can't read; the store knows only its hash. */
import type { CookieOptions, Request, Response } from 'express';
import type { Store } from '../../store/store.ts';
import type { Actor } from '../../views/views.ts';
import { mayFail } from './may-fail.ts';
import { hashOfSecret, newSecret } from '../../farm/secrets.ts';
import { dayMs } from '../../durations.ts';

const sessionCookie = 'welcomb_session';

interface Session {
  readonly actor: Actor;
  readonly csrf: string;
}

export interface Sessions {
  find(secretHash: string): Session | undefined;
  /** A new session for a person; the one that the browser came with ends, so that nobody can have planted it. */
  begin(request: Request, response: Response, personId: string): { readonly csrf: string };
  end(request: Request, response: Response): void;
}

/** The session secret that the browser sent, if any. */
export function cookieOf(request: Request): string | undefined {
  const pair = (request.headers.cookie ?? '')
    .split(';')
    .map((text) => text.trim())
    .find((text) => text.startsWith(`${sessionCookie}=`));
  return pair?.slice(sessionCookie.length + 1);
}

export interface SessionParts {
  readonly people: Store['people'];
  readonly nowMs: () => number;
  readonly days: number;
  readonly basePath: string;
}

export function createSessions({ people, nowMs, days, basePath }: SessionParts): Sessions {
  const cookie = (request: Request): CookieOptions => ({
    httpOnly: true,
    sameSite: 'lax',
    // Behind a trusted proxy that ends TLS this follows X-Forwarded-Proto.
    secure: request.secure,
    path: basePath === '' ? '/' : basePath,
  });
  const lastsMs = days * dayMs;

  function endOld(request: Request): void {
    const old = cookieOf(request);
    if (old !== undefined) people.endSession(hashOfSecret(old));
  }

  return {
    find(secretHash) {
      const found = people.session(secretHash, nowMs());
      if (!found) return undefined;
      // Kept alive by use, written at most once a day.
      const wanted = nowMs() + lastsMs;
      if (wanted - found.session.expiresAtMs > dayMs) {
        mayFail(() => {
          people.extendSession(secretHash, wanted);
        });
      }
      const { id, name, role } = found.person;
      return { actor: { personId: id, name, role }, csrf: found.session.csrf };
    },
    begin(request, response, personId) {
      endOld(request);
      people.dropExpiredSessions(nowMs());
      const secret = newSecret();
      const csrf = newSecret();
      people.addSession({
        secretHash: hashOfSecret(secret),
        personId,
        csrf,
        createdAtMs: nowMs(),
        expiresAtMs: nowMs() + lastsMs,
      });
      response.cookie(sessionCookie, secret, { ...cookie(request), maxAge: lastsMs });
      return { csrf };
    },
    end(request, response) {
      endOld(request);
      response.clearCookie(sessionCookie, cookie(request));
    },
  };
}
