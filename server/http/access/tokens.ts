/** API tokens: for scripts, as `Authorization: Bearer …`. A token never may more than the person who made it. */
import type { Store } from '../../store/store.ts';
import type { Actor } from '../../views/views.ts';
import { mayFail } from './may-fail.ts';
import { hashOfSecret, newId, newSecret } from '../../farm/secrets.ts';

export const tokenScopes = ['read', 'log', 'all'] as const;
type TokenScope = (typeof tokenScopes)[number];

const roleOfScope: Readonly<Record<TokenScope, Actor['role']>> = {
  read: 'viewer',
  log: 'helper',
  all: 'keeper',
};
const byRank: readonly Actor['role'][] = ['viewer', 'helper', 'keeper'];
const lesser = (a: Actor['role'], b: Actor['role']): Actor['role'] =>
  byRank[Math.min(byRank.indexOf(a), byRank.indexOf(b))] ?? 'viewer';

const isScope = (scope: string): scope is TokenScope => (tokenScopes as readonly string[]).includes(scope);
/** "Last used" is as coarse as this: no write a request. */
const useGraceMs = 3_600_000;

/** A token that fits, with the person who made it. */
interface Held {
  readonly id: string;
  readonly ownerId: string;
  readonly actor: Actor;
}

export interface Tokens {
  find(secret: string): Held | undefined;
  /** The secret is in the answer and nowhere else. */
  make(personId: string, name: string, scope: TokenScope): { readonly id: string; readonly token: string };
}

export function createTokens(people: Store['people'], nowMs: () => number): Tokens {
  return {
    find(secret) {
      const found = people.token(hashOfSecret(secret));
      if (!found || !isScope(found.token.scope)) return undefined;
      const { token, person } = found;
      if (nowMs() - (token.lastUsedAtMs ?? 0) > useGraceMs) {
        mayFail(() => {
          people.tokenUsed(token.id, nowMs());
        });
      }
      const name = `${person.name} (token ${token.name})`;
      const role = lesser(person.role, roleOfScope[token.scope as TokenScope]);
      return { id: token.id, ownerId: person.id, actor: { personId: null, name, role } };
    },
    make(personId, name, scope) {
      const id = newId();
      // The prefix lets a secret scanner know it for what it is.
      const token = `welcomb_${newSecret()}`;
      people.addToken({ id, secretHash: hashOfSecret(token), personId, name, scope, createdAtMs: nowMs() });
      return { id, token };
    },
  };
}
