/** Settings that are edited on the page, as they lie in the store: where, and how they are read back. */
import { dirname, join } from 'node:path';
import { z } from 'zod';
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
