/** Settings that are edited on the page, as they lie in the store: where, how they are read back, and which can't be. */
import { dirname, join } from 'node:path';
import { limitsKey, readLimits } from '../rules/engine/stored-limits.ts';
import type { Store } from '../store/store.ts';
import type { FarmKey, FarmSettings, SettingFault } from '../contract/settings.ts';
import type { NotificationChannel } from '../contract/notifications.ts';
import { localDate } from '../contract/common.ts';
import { farmSettingsSchema } from '../contract/settings.ts';
import { notificationChannelSchema } from '../contract/notifications.ts';

type Settings = Pick<Store['settings'], 'get' | 'all'>;

export const settingKey = {
  farm: 'farm',
  /** Stored under the older word; databases keep it. */
  notificationChannel: (id: string) => `telling/${id}`,
  unavailable: 'plan/unavailable',
  limits: limitsKey,
} as const;
/** Keys that are the server's own business and not shown as changes. */
export const internalPrefix = 'internal/';

export const farmKeys = farmSettingsSchema.keyof().options;
export const isObject = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

export interface FarmRead {
  /** What is stored; the default where nothing is stored or where that can't be read. */
  readonly farm: FarmSettings;
  /** Keys whose stored value can't be read, each with what was expected. */
  readonly unreadable: ReadonlyMap<FarmKey, string>;
}

/** Reads stored farm settings key by key, so that a bad one leaves the others as they are. */
export function readFarm(stored: unknown): FarmRead {
  const whole = farmSettingsSchema.safeParse(stored ?? {});
  if (whole.success && (stored === undefined || isObject(stored)))
    return { farm: whole.data, unreadable: new Map() };
  const unreadable = new Map<FarmKey, string>();
  const readable: Partial<Record<FarmKey, unknown>> = {};
  for (const key of farmKeys) {
    const value = isObject(stored) ? stored[key] : stored;
    const read = isObject(stored) ? farmSettingsSchema.shape[key].safeParse(value) : undefined;
    if (read?.success === true) readable[key] = value;
    else unreadable.set(key, read?.error?.issues[0]?.message ?? 'the farm settings are not an object');
  }
  return { farm: farmSettingsSchema.parse(readable), unreadable };
}

/** For showing. What acts on a setting asks `farmSetting`. */
export const farmSettings = (settings: Pick<Settings, 'get' | 'all'>): FarmSettings =>
  readFarm(settings.get(settingKey.farm)).farm;

/** One farm setting; null where the stored value can't be read: then nothing is to be done by it. */
export function farmSetting<K extends FarmKey>(
  settings: Pick<Settings, 'get'>,
  key: K,
): FarmSettings[K] | null {
  const { farm, unreadable } = readFarm(settings.get(settingKey.farm));
  return unreadable.has(key) ? null : farm[key];
}

/**
 * What to store when `given` is saved: keys that can't be read keep their stored value unless they are among
 * `putRight`, and so do keys that only a newer program knows. Null where what is stored is no object that could be kept.
 */
export function farmToStore(
  stored: unknown,
  given: FarmSettings,
  putRight: readonly FarmKey[],
): Record<string, unknown> | null {
  const kept = [...readFarm(stored).unreadable.keys()].filter((key) => !putRight.includes(key));
  if (!isObject(stored)) return kept.length === 0 ? { ...given } : null;
  return { ...stored, ...given, ...Object.fromEntries(kept.map((key) => [key, stored[key]])) };
}

/** What stands for the path and the query of an address: they often hold a token. */
const kept = '/…';

/** An address with its host, and without what may be a token in it. */
export function hostOnly(address: string): string {
  if (!URL.canParse(address)) return address === '' ? '' : kept;
  const { protocol, host, pathname, search, hash, username, password } = new URL(address);
  const bare = pathname === '/' && `${search}${hash}${username}${password}` === '';
  return bare ? address : `${protocol}//${host}${kept}`;
}

/** A channel's address as it may be shown: those of webhooks and push services are as good as a key. */
export const shownAddress = ({ kind, address }: Pick<NotificationChannel, 'kind' | 'address'>): string =>
  kind === 'webhook' || kind === 'push' ? hostOnly(address) : address;

/** Settings of the farm that are addresses, with a path or a query in which a token often stands. */
export const addressKeys = ['heartbeatUrl', 'forecastUrl'] as const;
const isAddress = (key: string): boolean => addressKeys.some((name) => name === key);

/** Farm settings, or a part of them, as the page and the list of changes may show them. */
export const shownFarm = <T extends Readonly<Record<string, unknown>>>(farm: T): T => ({
  ...farm,
  ...Object.fromEntries(
    addressKeys.flatMap((name) => {
      const value = farm[name];
      if (value === undefined) return [];
      return [[name, typeof value === 'string' ? hostOnly(value) : kept] as const];
    }),
  ),
});

export interface NotificationChannelsRead {
  /** With their secrets: to send, not for the page. */
  readonly channels: readonly NotificationChannel[];
  /** By id, with what was expected. */
  readonly unreadable: ReadonlyMap<string, string>;
}

/** Notification channels, each read by itself. */
export function readNotificationChannels(settings: Pick<Settings, 'get' | 'all'>): NotificationChannelsRead {
  const prefix = settingKey.notificationChannel('');
  const channels: NotificationChannel[] = [];
  const unreadable = new Map<string, string>();
  for (const [key, value] of settings.all(prefix)) {
    const parsed = notificationChannelSchema.safeParse(value);
    if (parsed.success) channels.push(parsed.data);
    else unreadable.set(key.slice(prefix.length), inWords(parsed.error.issues[0]));
  }
  return { channels, unreadable };
}
const inWords = (
  issue: { readonly path: readonly PropertyKey[]; readonly message: string } | undefined,
): string =>
  issue === undefined || issue.path.length === 0
    ? (issue?.message ?? 'not valid')
    : `${issue.path.map(String).join('.')}: ${issue.message}`;

/** With their secrets: to send, not for the page. */
export const notificationChannels = (
  settings: Pick<Settings, 'get' | 'all'>,
): readonly NotificationChannel[] => readNotificationChannels(settings).channels;

const isDay = (value: unknown): value is string => localDate.safeParse(value).success;
const storedDays = (
  settings: Pick<Settings, 'get' | 'all'>,
): { readonly days: string[]; readonly readable: boolean } => {
  const stored = settings.get(settingKey.unavailable) ?? [];
  const days = Array.isArray(stored) ? stored.filter(isDay) : [];
  return { days, readable: Array.isArray(stored) && days.length === stored.length };
};

/** Calendar days on which the keeper can't work, ascending. */
export const unavailableDays = (settings: Pick<Settings, 'get' | 'all'>): string[] =>
  storedDays(settings).days;

/** The folder of the farm settings, or `backups` beside the database; null where the setting can't be read. */
export function backupFolder(store: Store): string | null {
  const chosen = farmSetting(store.settings, 'backupFolder');
  return chosen === '' ? join(dirname(store.file), 'backups') : chosen;
}
/** How many backups stay; all of them where the setting can't be read. */
export const backupsKept = (settings: Pick<Settings, 'get' | 'all'>): number =>
  farmSetting(settings, 'backupKeep') ?? Infinity;

const meanwhile: Readonly<Record<FarmKey, string>> = {
  farmName: 'The farm is shown without a name until it is put right.',
  display: 'Values are shown in °C and kg until it is put right.',
  standingCellLimit: 'No chance of a standing cell counts as small enough until it is put right.',
  forecastUrl: 'No forecast is fetched until it is put right.',
  heartbeatUrl: 'The heartbeat address is not called until it is put right.',
  publicAddress: 'Messages carry no link until it is put right.',
  backupFolder: 'No backup is made until it is put right.',
  backupKeep: 'No old backup is deleted until it is put right.',
  rawKeepDays: 'No reading is deleted until it is put right.',
  historyStepMinutes: 'The past is evaluated every ten minutes until it is put right.',
};
const mostShown = 200;

/** Every stored setting that can't be read, with what the server does about it. Never a text that may be a secret. */
export function settingFaults(settings: Pick<Settings, 'get' | 'all'>): SettingFault[] {
  const stored = settings.get(settingKey.farm);
  const farm = [...readFarm(stored).unreadable].map(([key, problem]): SettingFault => {
    const text = isObject(stored) && !isAddress(key) ? JSON.stringify(stored[key]) : undefined;
    const shown = text === undefined ? {} : { stored: text.slice(0, mostShown) };
    return { name: `farm.${key}`, problem, effect: meanwhile[key], ...shown };
  });
  const channels = [...readNotificationChannels(settings).unreadable].map(([id, problem]) => ({
    name: settingKey.notificationChannel(id),
    problem,
    effect: 'No notification is sent through it until it is saved again or deleted.',
  }));
  const limits = readLimits(settings.get(settingKey.limits)).faults.map(({ path, problem, text }) => ({
    name: [settingKey.limits, ...path].join('.'),
    problem,
    stored: text.slice(0, mostShown),
    effect: 'The default, or the limit of the farm or place, holds until it is put right.',
  }));
  const days = storedDays(settings).readable
    ? []
    : [
        {
          name: settingKey.unavailable,
          problem: 'expected a list of days, such as 2031-05-10',
          effect: 'The plan leaves out only the days that can be read until they are chosen again.',
        },
      ];
  return [...farm, ...channels, ...limits, ...days];
}
