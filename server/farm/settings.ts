/** Settings that are edited on the page, as they lie in the store: where, and how they are read back. */
import { dirname, join } from 'node:path';
import * as z from 'zod';
import type { Store } from '../store/store.ts';
import type { FarmSettings, Telling } from '../contract/settings.ts';
import { farmSettingsSchema, tellingSchema } from '../contract/settings.ts';
import { UserError } from '../user-error.ts';

type Settings = Store['settings'];

export const settingKey = {
  farm: 'farm',
  telling: (id: string) => `telling/${id}`,
  unavailable: 'plan/unavailable',
} as const;
/** Keys that are the server's own business and not shown as changes. */
export const internalPrefix = 'internal/';

/** What is stored, or the standard where nothing is, or where a newer program stored something unknown. */
export const farmSettings = (settings: Settings): FarmSettings =>
  farmSettingsSchema.catch(farmSettingsSchema.parse({})).parse(settings.get(settingKey.farm) ?? {});

/** What stands for the path and the query of an address: they often hold a token. */
const kept = '/…';

/** An address with its host, and without what may be a token in it. */
export function hostOnly(address: string): string {
  if (!URL.canParse(address)) return address === '' ? '' : kept;
  const { protocol, host, pathname, search, hash, username, password } = new URL(address);
  const bare = pathname === '/' && `${search}${hash}${username}${password}` === '';
  return bare ? address : `${protocol}//${host}${kept}`;
}

/** What is stored instead of an address that was given: the stored one where it came back as it was shown. */
export function givenAddress(pointer: string, given: string, stored: string): string {
  if (given === hostOnly(stored)) return stored;
  if (given.includes('…'))
    throw new UserError(
      'invalid-input',
      'Write the whole address: what stands for “…” in it is kept secret here.',
      {
        faults: [{ pointer, detail: 'a whole address, without “…”' }],
      },
    );
  return given;
}

/** Settings of the farm that are addresses, with a path or a query in which a token often stands. */
const addresses = ['heartbeatUrl', 'forecastUrl'] as const;

/** Farm settings, or a part of them, as the page and the list of changes may show them. */
export const shownFarm = <T extends Readonly<Record<string, unknown>>>(farm: T): T =>
  withAddresses(farm, hostOnly);

/** As another server may get them: without those addresses, which it must not call for this one. */
export const exportedFarm = (farm: unknown): unknown =>
  typeof farm === 'object' && farm !== null ? withAddresses({ ...farm }, () => '') : farm;

function withAddresses<T extends Readonly<Record<string, unknown>>>(farm: T, as: (one: string) => string): T {
  const has = addresses.flatMap((name) => {
    const value = farm[name];
    return typeof value === 'string' ? [[name, as(value)] as const] : [];
  });
  return { ...farm, ...Object.fromEntries(has) };
}

/** Addresses that come back as they were shown are those that are stored. */
export const givenFarm = (given: FarmSettings, stored: FarmSettings): FarmSettings => ({
  ...given,
  heartbeatUrl: givenAddress('#/heartbeatUrl', given.heartbeatUrl, stored.heartbeatUrl),
  forecastUrl: givenAddress('#/forecastUrl', given.forecastUrl, stored.forecastUrl),
});

/** With their secrets: for telling, not for the page. */
export const tellings = (settings: Settings): Telling[] =>
  [...settings.all(settingKey.telling('')).values()].flatMap((value) => {
    const parsed = tellingSchema.safeParse(value);
    return parsed.success ? [parsed.data] : [];
  });

/** Calendar days on which the keeper can't work, ascending. */
export const unavailableDays = (settings: Settings): string[] =>
  z.array(z.string()).catch([]).parse(settings.get(settingKey.unavailable));

/** The folder of the farm settings, or `backups` beside the database. */
export function backupFolder(store: Store): string {
  const { backupFolder: chosen } = farmSettings(store.settings);
  return chosen === '' ? join(dirname(store.file), 'backups') : chosen;
}
