/** Which settings of the page go from one server to another, and what of them. */
import { unavailableSchema } from '../../contract/plan.ts';
import { farmSettingsSchema } from '../../contract/settings.ts';
import { addressKeys, farmKeys, readFarm, settingKey } from '../../farm/settings.ts';
import { readLimits } from '../../rules/engine/stored-limits.ts';

export interface PortableSetting {
  /** Undefined where nothing of it is taken. */
  readonly value: unknown;
  /** What was left out and why, a sentence each. */
  readonly leftOut: readonly string[];
}

/** Addresses that this server would call or link to, and folders that it would write to, for another one. */
const staysBehind: readonly string[] = [...addressKeys, 'publicAddress', 'backupFolder'];
const defaults = farmSettingsSchema.parse({});

/** What of a setting another server may have: known keys, as their schema wants them, no address and no folder. */
export function portableSetting(key: string, value: unknown): PortableSetting {
  switch (key) {
    case settingKey.farm:
      return portableFarm(value);
    case settingKey.limits:
      return portableLimits(value);
    case settingKey.unavailable: {
      const read = unavailableSchema.shape.days.safeParse(value);
      return read.success
        ? { value: read.data, leftOut: [] }
        : { value: undefined, leftOut: [`${key}: expected a list of days.`] };
    }
    default:
      return { value: undefined, leftOut: [`${key}: not a setting that goes from one server to another.`] };
  }
}

function portableFarm(value: unknown): PortableSetting {
  if (typeof value !== 'object' || value === null || Array.isArray(value))
    return { value: undefined, leftOut: ['farm: expected an object.'] };
  const { unreadable } = readFarm(value);
  const leftOut: string[] = [];
  const taken = Object.entries(value).filter(([key, one]) => {
    const known = farmKeys.find((name) => name === key);
    const problem = known === undefined ? 'not a setting that is known here' : unreadable.get(known);
    if (problem !== undefined) leftOut.push(`farm.${key}: ${problem}.`);
    else if (staysBehind.includes(key)) {
      if (one !== '') leftOut.push(`farm.${key}: an address or a folder is for its own server alone.`);
    } else return true;
    return false;
  });
  return { value: taken.length === 0 ? undefined : Object.fromEntries(taken), leftOut };
}

function portableLimits(value: unknown): PortableSetting {
  const { limits, faults } = readLimits(value);
  const leftOut = faults.map(({ path, problem }) => `${[settingKey.limits, ...path].join('.')}: ${problem}.`);
  return { value: limits, leftOut };
}

/** What is taken in: as portable, and nothing by which readings would be deleted earlier than by default. */
export function importedSetting(key: string, value: unknown): PortableSetting {
  const portable = portableSetting(key, value);
  const farm = key === settingKey.farm ? farmSettingsSchema.partial().safeParse(portable.value) : undefined;
  const days = farm?.data?.rawKeepDays;
  if (days === undefined || days >= defaults.rawKeepDays) return portable;
  const { rawKeepDays: _short, ...rest } = portable.value as Readonly<Record<string, unknown>>;
  const why = `fewer days than ${String(defaults.rawKeepDays)} would delete readings: set them here`;
  return {
    value: Object.keys(rest).length === 0 ? undefined : rest,
    leftOut: [...portable.leftOut, `farm.rawKeepDays: ${why}.`],
  };
}
