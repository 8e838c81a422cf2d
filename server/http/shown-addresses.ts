/** Addresses that the page was shown without their path: what it sends back for them. */
import type { FarmSettings } from '../contract/settings.ts';
import { addressKeys, hostOnly } from '../farm/settings.ts';
import { UserError } from '../user-error.ts';

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

/** Addresses that come back as they were shown are those that are stored. */
export const givenFarm = (given: FarmSettings, stored: FarmSettings): FarmSettings => ({
  ...given,
  ...Object.fromEntries(
    addressKeys.map((name) => [name, givenAddress(`#/${name}`, given[name], stored[name])]),
  ),
});
