/** Signing in and out, people, API keys and the access log. */
import type { Request } from 'express';
import type { Person } from '../../store/people.ts';
import type { Access } from '../access/access.ts';
import { accountKey } from '../../farm/names.ts';
import type { FamiliarAddresses } from '../access/limits.ts';
import type { Sessions } from '../access/sessions.ts';
import type { Tokens } from '../access/tokens.ts';
import { tokenScopes } from '../access/tokens.ts';
import { farmSettingsSchema } from '../../contract/settings.ts';
import type { Me } from '../../contract/account.ts';
import type { ResponseOf } from '../../contract/index.ts';
import type { AppDeps } from '../deps.ts';
import { farmSettings, settingFaults, shownFarm } from '../../farm/settings.ts';
import { implement } from '../operation.ts';
import { addPerson, changePassword, checkPassword, passwordThere } from '../../farm/people.ts';
import { UserError, orNotFound, notFound } from '../../user-error.ts';
import { iso, isoOrNull } from '../../farm/wire.ts';

export interface Entrance {
  readonly access: Access;
  readonly sessions: Sessions;
  readonly tokens: Tokens;
  readonly familiar: FamiliarAddresses;
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

/** The same whatever the farm has: the fields stay for programs that read them. */
const strangersFacts = (password: boolean): Pick<Me, 'farm' | 'setUp'> => ({
  farm: farmSettingsSchema.parse({}),
  setUp: { password, site: false, sensor: false, nuc: false, split: false },
});

function meOf(deps: AppDeps, { access }: Entrance) {
  const { store, settings, version, setupWindow } = deps;
  const hasSplit = once(() => splitLogged(deps));
  const hasSensor = once(() => store.channels.list().length > 0);
  const farmFacts = (): Pick<Me, 'farm' | 'setUp'> => ({
    farm: shownFarm(farmSettings(store.settings)),
    setUp: {
      password: access.passwordSet(),
      site: store.places.listSites().length > 0,
      sensor: hasSensor(),
      nuc: store.places.listHives({ role: 'nuc', retired: true }).length > 0,
      split: hasSplit(),
    },
  });
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
      ...(just !== undefined || known !== undefined ? farmFacts() : strangersFacts(access.passwordSet())),
      unreadable: just === undefined && known === undefined ? 0 : store.unreadable.list().length,
      serverTime: iso(nowMs),
      version,
      ...(known || just || !access.passwordSet() ? { settingFaults: settingFaults(store.settings) } : {}),
      ...(access.passwordSet() || setupWindow.minutes === 0
        ? {}
        : { withoutCode: { open: setupWindow.opensTo(request), minutes: setupWindow.minutes } }),
    };
  };
}

/** The account whose password a sign-in tries. */
export function accountNamed({ body }: Request): string | undefined {
  const { name } = (body ?? {}) as { readonly name?: unknown };
  return typeof name === 'string' ? accountKey(name) : undefined;
}

/** The account of whoever asks, who has to give its password again. */
export const ownAccount =
  ({ access }: Pick<Entrance, 'access'>) =>
  (request: Request): string | undefined => {
    const visitor = access.whoAsks(request);
    return visitor.kind === 'known' ? accountKey(visitor.actor.name) : undefined;
  };

export function sessionRoutes(deps: AppDeps, entrance: Entrance) {
  const { people } = deps.store;
  const me = meOf(deps, entrance);
  return {
    ...implement('me', ({ request, nowMs }) => me(request, nowMs)),
    ...implement('setPassword', async ({ body, nowMs, request, response }) => {
      // Before the hashing too: nobody has to be served that work.
      if (entrance.access.passwordSet()) throw new UserError('conflict', passwordThere);
      const withoutCode = deps.setupWindow.opensTo(request);
      if (!withoutCode) deps.setupCode?.check(body.code, nowMs);
      const person = await addPerson(people, { ...body, role: 'keeper' }, nowMs, { onlyFirst: true });
      deps.setupCode?.end();
      const from = `from ${request.ip ?? 'an unknown address'}${withoutCode ? ' without the setup code' : ''}`;
      people.noteAudit(person.name, `set the first password ${from}`);
      deps.log.info(`The first password was set ${from}.`);
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
      entrance.familiar.note(accountKey(body.name), request.ip);
      people.noteAudit(person.name, `signed in from ${request.ip ?? 'an unknown address'}`);
      const { csrf } = entrance.sessions.begin(request, response, person.id);
      return me(request, nowMs, { ...person, csrf });
    }),
    ...implement('changePassword', async ({ body, actor, nowMs, request, response }) => {
      if (actor.personId === null) {
        throw new UserError(
          'not-allowed',
          'Only a person who is signed in changes a password: sign in with it first.',
        );
      }
      const { name } = orNotFound(people.get(actor.personId), 'person', actor.personId);
      if (!(await checkPassword(people, name, body.current)))
        throw new UserError('not-allowed', 'The password that you have now is another one.');
      const ended = await changePassword(people, name, body.password, { keepTokens: body.keepTokens });
      people.noteAudit(
        name,
        `changed the password; ${String(ended)} API ${ended === 1 ? 'key' : 'keys'} ended`,
      );
      const person = orNotFound(people.get(actor.personId), 'person', actor.personId);
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
    ...implement('addPerson', async ({ body, nowMs }) => {
      // The first one is added with the setup code: another way to the same would go round it.
      if (people.list().length === 0)
        throw new UserError('conflict', 'Set the first password before adding people.');
      return personToWire(await addPerson(people, body, nowMs));
    }),
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
      items: people.tokens().flatMap(({ id, personId, name, scope, createdAtMs, lastUsedAtMs }) => {
        const known = tokenScopes.find((one) => one === scope);
        if (known === undefined) return [];
        const owner = people.get(personId)?.name ?? '';
        const lastUsedAt = isoOrNull(lastUsedAtMs);
        return [{ id, name, scope: known, owner, createdAt: iso(createdAtMs), lastUsedAt }];
      }),
    })),
    ...implement('addToken', ({ body, actor }) => {
      if (actor.personId === null) {
        throw new UserError('conflict', 'An API key belongs to a person: set a password and sign in first.');
      }
      return tokens.make({ ...body, personId: actor.personId });
    }),
    ...implement('deleteToken', ({ params }) => {
      if (!people.removeToken(params.id)) throw notFound('API key', params.id);
    }),
  };
}
