/** Two keepers may save the farm's settings that both have opened: neither may take back unseen what the other changed. */
import { isDeepStrictEqual } from 'node:util';
import type { FarmSettings } from '../contract/settings.ts';
import { UserError } from '../user-error.ts';
import { farmKeys } from './settings.ts';

/**
 * What stands, with what `given` changes of what was `read`; all three as they are shown. Throws `conflict` where
 * somebody else has changed the same setting since it was read.
 */
export function mergeFarm(given: FarmSettings, read: FarmSettings, standing: FarmSettings): FarmSettings {
  const changed = farmKeys.filter((key) => !isDeepStrictEqual(given[key], read[key]));
  const clashes = changed.filter(
    (key) => !isDeepStrictEqual(standing[key], read[key]) && !isDeepStrictEqual(standing[key], given[key]),
  );
  if (clashes.length > 0)
    throw new UserError(
      'conflict',
      'Somebody else changed the same settings meanwhile. Note what you wrote, then reload the page.',
      {
        faults: clashes.map((key) => ({
          pointer: `#/${key}`,
          detail: 'Somebody else changed this meanwhile.',
        })),
      },
    );
  return { ...standing, ...Object.fromEntries(changed.map((key) => [key, given[key]])) };
}
