/**
 * Who asks, and whether they may.
 *
 * Until a password is set: this machine has everything when the server listens on loopback alone. When it listens to the
 * network, this machine and devices at home may set the password and nothing else; nobody else is served. After that: a
 * session cookie, or an API key.
 */
import type { Request, RequestHandler } from 'express';
import type { Role } from '../../contract/index.ts';
import { plainPage, wantsPage } from '../pages.ts';
import { statusOf } from '../problem.ts';
import { UserError } from '../../user-error.ts';
import type { Actor } from '../../views/views.ts';
import { isHomeRequest, isLocalRequest } from './local.ts';
import { changes, originVerdict } from './origin-check.ts';
import { hashOfSecret } from '../../farm/secrets.ts';
import type { Sessions } from './sessions.ts';
import { cookieOf } from './sessions.ts';
import type { Tokens } from './tokens.ts';

/** The keeper at the machine, before anybody has set a password. */
export const keeperAtTheMachine: Actor = { personId: null, name: 'keeper', role: 'keeper' };

export type Visitor =
  | {
      readonly kind: 'known';
      readonly actor: Actor;
      readonly by: 'machine' | 'session' | 'token';
      readonly csrf: string | null;
      /** Whose turn it is where there is a share for each: the person, and the session or token. */
      readonly shares: { readonly person: string; readonly way: string };
    }
  /** May ask only what anybody may; `why` says what to do about it. */
  | { readonly kind: 'stranger'; readonly why: string; readonly code: 'sign-in-required' | 'invalid-token' }
  | { readonly kind: 'refused'; readonly refusal: UserError };

export interface Access {
  whoAsks(request: Request): Visitor;
  passwordSet(): boolean;
}

export interface AccessParts {
  readonly passwordSet: () => boolean;
  readonly sessions: Sessions;
  readonly tokens: Tokens;
  /** The server listens on loopback and nowhere else. */
  readonly loopbackOnly: boolean;
}

const closedToOthers =
  'No password is set yet, so this server answers only its own machine and devices at home. Open the page from one of these, by the address of the server itself.';
const firstRunOnly =
  'Set a password first: this server listens to the network, and anybody there could change things.';

const wrongToken: Visitor = {
  kind: 'stranger',
  why: 'This API key is not valid (any more): make a new one under Settings.',
  code: 'invalid-token',
};
const atTheMachine = { person: 'machine', way: 'machine' };
const bearer = /^Bearer +([A-Za-z0-9._~+/-]+=*)$/i;

export function createAccess({ passwordSet, sessions, tokens, loopbackOnly }: AccessParts): Access {
  function beforePassword(request: Request): Visitor {
    if (isHomeRequest(request)) return { kind: 'stranger', why: firstRunOnly, code: 'sign-in-required' };
    if (!isLocalRequest(request))
      return { kind: 'refused', refusal: new UserError('this-machine-only', closedToOthers) };
    if (!loopbackOnly) return { kind: 'stranger', why: firstRunOnly, code: 'sign-in-required' };
    return { kind: 'known', actor: keeperAtTheMachine, by: 'machine', csrf: null, shares: atTheMachine };
  }

  function byToken(secret: string): Visitor | undefined {
    const held = tokens.find(secret);
    if (!held) return undefined;
    const shares = { person: held.ownerId, way: `token ${held.id}` };
    return { kind: 'known', actor: held.actor, by: 'token', csrf: null, shares };
  }

  function bySession(request: Request): Visitor | undefined {
    const cookie = cookieOf(request);
    const hash = cookie === undefined ? undefined : hashOfSecret(cookie);
    const session = hash === undefined ? undefined : sessions.find(hash);
    if (!session) return undefined;
    const { actor, csrf } = session;
    const shares = { person: actor.personId ?? '', way: `session ${hash ?? ''}` };
    return { kind: 'known', actor, by: 'session', csrf, shares };
  }

  return {
    passwordSet,
    whoAsks(request) {
      if (!passwordSet()) return beforePassword(request);
      // A proxy may ask for a name and password of its own, and browsers send these on: only a token that fits counts.
      const secret = bearer.exec(request.headers.authorization ?? '')?.[1];
      const known = (secret === undefined ? undefined : byToken(secret)) ?? bySession(request);
      if (known) return known;
      return secret === undefined
        ? { kind: 'stranger', why: 'Sign in first.', code: 'sign-in-required' }
        : wrongToken;
    },
  };
}

const rank: Readonly<Record<Role, number>> = { anyone: 0, viewer: 1, helper: 2, keeper: 3 };

/** The actor, where the role suffices; null for a stranger where anybody may ask. Throws `UserError` otherwise. */
export function requireRole(visitor: Visitor, role: Role): Actor | null {
  if (visitor.kind === 'refused') throw visitor.refusal;
  if (visitor.kind === 'known') {
    if (rank[visitor.actor.role] >= rank[role]) return visitor.actor;
    const who = visitor.by === 'token' ? 'This API key' : visitor.actor.name;
    throw new UserError('not-allowed', `${who} may act as ${visitor.actor.role} only; this takes a ${role}.`);
  }
  if (role === 'anyone') return null;
  throw new UserError(visitor.code, visitor.why);
}

/** Before everything but `/healthz`: nobody is served whom a server without a password does not serve. */
export function openTo(access: Access): RequestHandler {
  return (request, response, next) => {
    const visitor = access.passwordSet() ? undefined : access.whoAsks(request);
    if (visitor?.kind !== 'refused') next();
    else if (wantsPage(request)) {
      response.status(statusOf[visitor.refusal.code]).set('Cache-Control', 'no-store').type('html');
      response.send(plainPage('Not open yet', visitor.refusal.message));
    } else next(visitor.refusal);
  };
}

const foreign = 'This change was asked for by another site’s page; it was not made.';
const unproven =
  'This change comes with a session but without word of the page that asked for it: send the session’s token from GET /me as X-CSRF-Token.';

/** Before every route: see `origin-check.ts`. */
export function originCheck(access: Access): RequestHandler {
  return (request, _response, next) => {
    if (!changes(request.method)) {
      next();
      return;
    }
    const host = request.host as string | undefined;
    const verdict = originVerdict(request.headers, `${request.protocol}://${host ?? ''}`);
    const visitor = access.whoAsks(request);
    if (verdict === 'foreign') next(new UserError('foreign-origin', foreign));
    else if (verdict === 'unsaid' && visitor.kind === 'known' && visitor.by === 'session') {
      next(
        request.headers['x-csrf-token'] === visitor.csrf
          ? undefined
          : new UserError('foreign-origin', unproven),
      );
    } else next();
  };
}
