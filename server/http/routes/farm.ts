/** Farm settings, notification channels, and what was changed when by whom. */
import type { SettingChange } from '../../store/settings.ts';
import type { NotificationChannel } from '../../contract/notifications.ts';
import type { AppDeps } from '../deps.ts';
import {
  addressKeys,
  farmSettings,
  farmToStore,
  internalPrefix,
  readNotificationChannels,
  settingKey,
  shownAddress,
  shownFarm,
  notificationChannels,
  isObject,
} from '../../farm/settings.ts';
import { mergeFarm } from '../../farm/merge-farm.ts';
import { channelFault } from '../../notify/recipient.ts';
import { implement } from '../operation.ts';
import { UserError, orNotFound, notFound } from '../../user-error.ts';
import { keptPushKeys } from '../../farm/push-keys.ts';
import { givenAddress, givenFarm, refuseUncallable } from '../shown-addresses.ts';
import { iso, present } from '../../farm/wire.ts';

const brief = (value: unknown): string =>
  value === undefined ? 'nothing' : typeof value === 'string' ? `"${value}"` : JSON.stringify(value);

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

export function farmRoutes({ store, views, events, log, tryAddresses }: AppDeps) {
  /** Whether a new address answers shows at once, and not when the next call is due. */
  const tryNew = async (): Promise<void> => {
    try {
      await tryAddresses?.();
    } catch (error) {
      log.error({ error: String(error) }, 'A new address could not be tried.');
    }
    events.publish({ type: 'status' });
  };
  return {
    ...implement('getFarm', () => shownFarm(farmSettings(store.settings))),
    ...implement('putFarm', async ({ body, actor, nowMs }) => {
      const { putRight, read, ...given } = body;
      const before = farmSettings(store.settings);
      const after = givenFarm(read ? mergeFarm(given, read, shownFarm(before)) : given, before);
      refuseUncallable(after, before);
      const farm = farmToStore(store.settings.get(settingKey.farm), after, putRight);
      if (farm === null)
        throw new UserError(
          'conflict',
          'None of the stored farm settings can be read: put all of them right at once.',
        );
      store.settings.put(settingKey.farm, farm, { by: actor.name });
      events.publish({ type: 'status' });
      await views.afterSetupChange(nowMs);
      if (addressKeys.some((name) => after[name] !== before[name])) void tryNew();
      return shownFarm(farmSettings(store.settings));
    }),
    ...implement('listChanges', () => ({
      items: store.settings
        .changes({ limit: 500 })
        .filter(({ key }) => !key.startsWith(internalPrefix))
        .map((change) => ({ at: iso(change.atMs), by: change.by, what: changeInWords(change) })),
    })),
  };
}

/** What the page gets: whether there is a secret, never which. */
const withoutSecret = (channel: NotificationChannel): NotificationChannel =>
  present({
    ...channel,
    address: shownAddress(channel),
    secret: channel.secret === undefined ? undefined : 'set',
  });

/** Whom a secret is for: kind, scheme, user, host and port; the whole address where it is no URL. */
function destination({ kind, address }: Pick<NotificationChannel, 'kind' | 'address'>): string {
  if (kind === 'push' || !URL.canParse(address)) return `${kind} ${address}`;
  const { protocol, username, hostname, port } = new URL(address);
  return `${kind} ${protocol}//${username}@${hostname}:${port}`;
}

export function notificationChannelRoutes({ store, views }: AppDeps) {
  const { settings } = store;
  const one = (id: string): NotificationChannel | undefined =>
    notificationChannels(settings).find((channel) => channel.id === id);

  /**
   * Nothing given, or what the page was given to show, keeps the stored secret; an empty one takes it away. A stored one
   * is never sent to anybody else than whom it was given for.
   */
  const secretOf = (
    channel: NotificationChannel,
  ): { readonly secret: string | undefined; readonly dropped: boolean } => {
    const { secret: given } = channel;
    if (given === '') return { secret: undefined, dropped: false };
    if (given !== undefined && given !== 'set') return { secret: given, dropped: false };
    const stored = one(channel.id);
    if (stored?.secret === undefined)
      return { secret: undefined, dropped: readNotificationChannels(settings).unreadable.has(channel.id) };
    const dropped = destination(stored) !== destination(channel);
    return { secret: dropped ? undefined : stored.secret, dropped };
  };

  const addressOf = (id: string, { kind, address }: Omit<NotificationChannel, 'id'>): string => {
    if (kind !== 'webhook' && kind !== 'push') return address;
    const stored = one(id);
    return givenAddress('#/address', address, stored?.kind === kind ? stored.address : '');
  };

  return {
    ...implement('listTellings', () => ({ items: notificationChannels(settings).map(withoutSecret) })),
    ...implement('putTelling', ({ params, body, actor }) => {
      const address = addressOf(params.id, body);
      const stored = one(params.id);
      // Another address is another subscription, which has not ended.
      const endedAt = stored?.address === address ? stored.endedAt : undefined;
      const given: NotificationChannel = present({ ...body, id: params.id, address, endedAt });
      const { secret, dropped } = secretOf(given);
      const fault = channelFault(given.kind, given.address, secret);
      if (fault !== null)
        throw new UserError('invalid-input', `“${given.name}” can’t be used: ${fault.detail}.`, {
          faults: [fault],
        });
      const channel: NotificationChannel = present({ ...given, secret });
      settings.put(settingKey.notificationChannel(params.id), channel, { by: actor.name, secret: true });
      return { ...withoutSecret(channel), ...(dropped && { secretDropped: true }) };
    }),
    ...implement('deleteTelling', ({ params, actor }) => {
      if (!one(params.id) && !readNotificationChannels(settings).unreadable.has(params.id))
        throw notFound('notification channel', params.id);
      settings.remove(settingKey.notificationChannel(params.id), { by: actor.name, secret: true });
    }),
    ...implement('pushKey', async () => ({ publicKey: (await keptPushKeys(settings)).publicKey })),
    ...implement('tryTelling', async ({ params, nowMs }) =>
      orNotFound(await views.tryTelling(params.id, nowMs), 'notification channel', params.id),
    ),
  };
}
