/** Settings that are edited on the page, as they lie in the store: where, and how they are read back. */
import { dirname, join } from 'node:path';
import * as z from 'zod';
import type { Store } from '../store/store.ts';
import type { FarmSettings, Telling } from './contract/settings.ts';
import { farmSettingsSchema, tellingSchema } from './contract/settings.ts';

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
function hostOnly(address: string): string {
  if (!URL.canParse(address)) return address === '' ? '' : kept;
  const url = new URL(address);
  return url.pathname === '/' && url.search === '' ? address : `${url.protocol}//${url.host}${kept}`;
}

/** Farm settings, or a part of them, as the page, the list of changes and the export may show them. */
export const shownFarm = <T extends Readonly<Record<string, unknown>>>(farm: T): T =>
  typeof farm['heartbeatUrl'] === 'string' ? { ...farm, heartbeatUrl: hostOnly(farm['heartbeatUrl']) } : farm;

/** An address that comes back as it was shown is the one that is stored. */
export const givenFarm = (given: FarmSettings, stored: FarmSettings): FarmSettings =>
  given.heartbeatUrl === hostOnly(stored.heartbeatUrl)
    ? { ...given, heartbeatUrl: stored.heartbeatUrl }
    : given;

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
