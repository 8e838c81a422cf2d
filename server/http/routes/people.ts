/** Signing in and out, people, API tokens and the access log. */
import type { Request } from 'express';
import type { Person } from '../../store/people.ts';
import type { Access } from '../access/access.ts';
import type { Sessions } from '../access/sessions.ts';
import type { Tokens } from '../access/tokens.ts';
import { tokenScopes } from '../access/tokens.ts';
import type { Me } from '../../contract/settings.ts';
import type { ResponseOf } from '../../contract/index.ts';
import type { AppDeps } from '../deps.ts';
import { farmSettings, settingFaults, shownFarm } from '../../farm/settings.ts';
import { implement } from '../operation.ts';
import { addPerson, checkPassword, passwordThere } from '../../farm/people.ts';
import { UserError, orNotFound, notFound } from '../../user-error.ts';
import { iso, isoOrNull } from '../../farm/wire.ts';

export interface Entrance {
  readonly access: Access;
  readonly sessions: Sessions;
  readonly tokens: Tokens;
}

const personToWire = ({ id, name, role, createdAtMs }: Person): ResponseOf<'addPerson'> => ({
  id,
  name,
  role,
  createdAt: iso(createdAtMs),
});

/** Looked up until it is so: what was once set up is not asked for again. */
function once(isSo: () => boolean): () => boolean {
  let so = false;
  return () => (so ||= isSo());
}

function splitLogged({ store }: AppDeps): boolean {
  for (const entry of store.introductions.allEntries()) {
    if (entry.type === 'fact' && entry.fact.kind === 'split-made') return true;
  }
  return false;
}

function meOf(deps: AppDeps, { access }: Entrance) {
  const { store, settings, version } = deps;
  const hasSplit = once(() => splitLogged(deps));
  const hasSensor = once(() => store.channels.list().length > 0);
  /** @param just signed in by this very request, whose cookie is still the old one */
  return (request: Request, nowMs: number, just?: Person & { readonly csrf: string }): Me => {
    const visitor = access.whoAsks(request);
    const known = visitor.kind === 'known' ? visitor : undefined;
    return {
      signedIn: just !== undefined || known !== undefined,
      passwordSet: access.passwordSet(),
      name: just?.name ?? known?.actor.name ?? null,
      role: just?.role ?? known?.actor.role ?? null,
      csrf: just?.csrf ?? known?.csrf ?? null,
      demo: settings.demo,
      farm: shownFarm(farmSettings(store.settings)),
      setUp: {
        password: access.passwordSet(),
        site: store.places.listSites().length > 0,
        sensor: hasSensor(),
        nuc: store.places.listHives({ role: 'nuc', retired: true }).length > 0,
        split: hasSplit(),
      },
      unreadable: just === undefined && known === undefined ? 0 : store.unreadable.list().length,
      serverTime: iso(nowMs),
      version,
      ...(known || just || !access.passwordSet() ? { settingFaults: settingFaults(store.settings) } : {}),
    };
  };
}

export function sessionRoutes(deps: AppDeps, entrance: Entrance) {
  const { people } = deps.store;
  const me = meOf(deps, entrance);
  return {
    ...implement('me', ({ request, nowMs }) => me(request, nowMs)),
    ...implement('setPassword', async ({ body, nowMs, request, response }) => {
      // Before the hashing too: nobody has to be served that work.
      if (entrance.access.passwordSet()) throw new UserError('conflict', passwordThere);
      const person = await addPerson(people, { ...body, role: 'keeper' }, nowMs, { onlyFirst: true });
      people.noteAudit(person.name, 'set the first password');
      const { csrf } = entrance.sessions.begin(request, response, person.id);
      return me(request, nowMs, { ...person, csrf });
    }),
    ...implement('signIn', async ({ body, nowMs, request, response }) => {
      const person = await checkPassword(people, body.name, body.password);
      if (!person) {
        // The name as typed may be a password typed into the wrong field: it is not noted.
        people.noteAudit(
          'somebody',
          `gave a wrong name or password from ${request.ip ?? 'an unknown address'}`,
        );
        throw new UserError('wrong-password', 'That name and password do not fit together.');
      }
      people.noteAudit(person.name, `signed in from ${request.ip ?? 'an unknown address'}`);
      const { csrf } = entrance.sessions.begin(request, response, person.id);
      return me(request, nowMs, { ...person, csrf });
    }),
    ...implement('signOut', ({ request, response }) => {
      entrance.sessions.end(request, response);
    }),
  };
}

export function peopleRoutes({ store }: AppDeps) {
  const { people } = store;
  return {
    ...implement('listPeople', () => ({ items: people.list().map(personToWire) })),
    ...implement('addPerson', async ({ body, nowMs }) => personToWire(await addPerson(people, body, nowMs))),
    ...implement('deletePerson', ({ params }) => {
      orNotFound(people.get(params.id), 'person', params.id);
      people.remove(params.id);
    }),
    ...implement('audit', () => ({
      items: people.audit(1000).map(({ atMs, who, what }) => ({ at: iso(atMs), who, what })),
    })),
  };
}

export function tokenRoutes({ store }: AppDeps, { tokens }: Entrance) {
  const { people } = store;
  return {
    ...implement('listTokens', () => ({
      items: people.tokens().flatMap(({ id, name, scope, createdAtMs, lastUsedAtMs }) => {
        const known = tokenScopes.find((one) => one === scope);
        return known === undefined
          ? []
          : [{ id, name, scope: known, createdAt: iso(createdAtMs), lastUsedAt: isoOrNull(lastUsedAtMs) }];
      }),
    })),
    ...implement('addToken', ({ body, actor }) => {
      if (actor.personId === null) {
        throw new UserError('conflict', 'A token belongs to a person: set a password and sign in first.');
      }
      return tokens.make(actor.personId, body.name, body.scope);
    }),
    ...implement('deleteToken', ({ params }) => {
      if (!people.removeToken(params.id)) throw notFound('token', params.id);
    }),
  };
}
