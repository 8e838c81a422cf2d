/** Farm settings, ways to tell people, and what was changed when by whom. */
import type { SettingChange } from '../../store/settings.ts';
import type { Telling } from '../../contract/settings.ts';
import type { AppDeps } from '../deps.ts';
import {
  farmSettings,
  givenAddress,
  givenFarm,
  hostOnly,
  internalPrefix,
  settingKey,
  shownFarm,
  tellings,
} from '../../farm/settings.ts';
import { implement } from '../operation.ts';
import { UserError, orNotFound, notFound } from '../../user-error.ts';
import { iso, present } from '../../farm/wire.ts';

const brief = (value: unknown): string =>
  value === undefined ? 'nothing' : typeof value === 'string' ? `"${value}"` : JSON.stringify(value);
const isObject = (value: unknown): value is Record<string, unknown> =>
  value !== null && typeof value === 'object' && !Array.isArray(value);

const shown = (key: string, value: unknown): unknown =>
  key === settingKey.farm && isObject(value) ? shownFarm(value) : value;

/** `farm: rawKeepDays 1825 → 400, farmName "" → "Hillside"`. */
function changeInWords({ key, before, after }: SettingChange): string {
  if (before === undefined && after === undefined) return `${key} changed`;
  if (!isObject(before) || !isObject(after)) {
    return `${key}: ${brief(shown(key, before))} → ${brief(shown(key, after))}`;
  }
  const [was, is] = key === settingKey.farm ? [shownFarm(before), shownFarm(after)] : [before, after];
  const names = [...new Set([...Object.keys(before), ...Object.keys(after)])];
  const parts = names
    .filter((name) => brief(before[name]) !== brief(after[name]))
    .map((name) => `${name} ${brief(was[name])} → ${brief(is[name])}`);
  return `${key}: ${parts.join(', ')}`;
}

export function farmRoutes({ store, views, events }: AppDeps) {
  return {
    ...implement('getFarm', () => shownFarm(farmSettings(store.settings))),
    ...implement('putFarm', async ({ body, actor, nowMs }) => {
      const farm = givenFarm(body, farmSettings(store.settings));
      store.settings.put(settingKey.farm, farm, { by: actor.name });
      events.publish({ type: 'status' });
      await views.afterSetupChange(nowMs);
      return shownFarm(farm);
    }),
    ...implement('listChanges', () => ({
      items: store.settings
        .changes({ limit: 500 })
        .filter(({ key }) => !key.startsWith(internalPrefix))
        .map((change) => ({ at: iso(change.atMs), by: change.by, what: changeInWords(change) })),
    })),
  };
}

/** What the page gets: whether there is a secret, never which; the address of a webhook often holds one, too. */
const withoutSecret = (telling: Telling): Telling =>
  present({
    ...telling,
    address: telling.kind === 'webhook' ? hostOnly(telling.address) : telling.address,
    secret: telling.secret === undefined ? undefined : 'set',
  });

export function tellingRoutes({ store, views }: AppDeps) {
  const { settings } = store;
  const one = (id: string): Telling | undefined => tellings(settings).find((telling) => telling.id === id);

  /** Nothing given, or what the page was given to show, keeps the stored secret; an empty one takes it away. */
  const secretOf = (id: string, given: string | undefined): string | undefined => {
    if (given === '') return undefined;
    return given === undefined || given === 'set' ? one(id)?.secret : given;
  };

  const addressOf = (id: string, { kind, address }: Omit<Telling, 'id'>): string => {
    if (kind !== 'webhook') return address;
    const stored = one(id);
    return givenAddress('#/address', address, stored?.kind === 'webhook' ? stored.address : '');
  };

  return {
    ...implement('listTellings', () => ({ items: tellings(settings).map(withoutSecret) })),
    ...implement('putTelling', ({ params, body, actor }) => {
      if (body.kind === 'webhook' && !/^https?:\/\//.test(body.address)) {
        throw new UserError(
          'invalid-input',
          'A webhook needs an address that begins with http:// or https://.',
          {
            faults: [{ pointer: '#/address', detail: 'an http or https address' }],
          },
        );
      }
      const telling: Telling = present({
        ...body,
        id: params.id,
        address: addressOf(params.id, body),
        secret: secretOf(params.id, body.secret),
      });
      settings.put(settingKey.telling(params.id), telling, { by: actor.name, secret: true });
      return withoutSecret(telling);
    }),
    ...implement('deleteTelling', ({ params, actor }) => {
      if (!one(params.id)) throw notFound('way to tell', params.id);
      settings.remove(settingKey.telling(params.id), { by: actor.name, secret: true });
    }),
    ...implement('tryTelling', async ({ params, nowMs }) =>
      orNotFound(await views.tryTelling(params.id, nowMs), 'way to tell', params.id),
    ),
  };
}
