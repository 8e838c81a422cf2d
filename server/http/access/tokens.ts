/** API tokens: for scripts, as `Authorization: Bearer …`. A token never may more than the person who made it. */
import type { Store } from '../../store/store.ts';
import type { Actor } from '../../views/views.ts';
import { UserError } from '../../user-error.ts';
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

interface NewToken {
  readonly id?: string | undefined;
  readonly personId: string;
  readonly name: string;
  readonly scope: TokenScope;
}

export interface Tokens {
  find(secret: string): Held | undefined;
  /**
   * The secret is in the answer and nowhere else. Asked for again under the id of one that nobody has used, it gets a
   * new secret; throws `UserError` where that id is another's.
   */
  make(input: NewToken): { readonly id: string; readonly token: string };
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
      const name = `${person.name} (key ${token.name})`;
      const role = lesser(person.role, roleOfScope[token.scope as TokenScope]);
      return { id: token.id, ownerId: person.id, actor: { personId: null, name, role } };
    },
    make({ id = newId(), personId, name, scope }) {
      const there = people.tokens().find((one) => one.id === id);
      if (there) {
        const isSame = there.personId === personId && there.name === name && there.scope === scope;
        if (!isSame || there.lastUsedAtMs !== null)
          throw new UserError(
            'conflict',
            `This form has made the key ${there.name} already: reload the page to make another.`,
          );
        people.removeToken(id);
      }
      // The prefix lets a secret scanner know it for what it is.
      const token = `welcomb_${newSecret()}`;
      people.addToken({ id, secretHash: hashOfSecret(token), personId, name, scope, createdAtMs: nowMs() });
      return { id, token };
    },
  };
}
