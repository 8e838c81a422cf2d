/** Addresses that the page was shown without their path: what it sends back for them. */
import type { FarmSettings } from '../contract/settings.ts';
import { addressKeys, hostOnly } from '../farm/settings.ts';
import { isCallable } from '../notify/recipient.ts';
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
    addressKeys.map((name) => [name, givenAddress(`#/${name}`, given[name].trim(), stored[name])]),
  ),
});

const addressNames = {
  heartbeatUrl: 'The heartbeat address',
  forecastUrl: 'The address of a forecast',
} as const satisfies Readonly<Record<(typeof addressKeys)[number], string>>;
const wanted = 'an http or https address such as https://example.org/, without a name or password in it';

/** What can't be called is refused when it is set; one that is stored already holds up no other setting. */
export function refuseUncallable(given: FarmSettings, stored: FarmSettings): void {
  const bad = addressKeys.filter((name) => {
    const address = given[name].replaceAll(/\{(?:lat|lon)\}/g, '0');
    return address !== '' && given[name] !== stored[name] && !isCallable(address);
  });
  const [first] = bad;
  if (first === undefined) return;
  throw new UserError('invalid-input', `${addressNames[first]} can’t be called: write ${wanted}.`, {
    faults: bad.map((name) => ({ pointer: `#/${name}`, detail: `Write ${wanted}.` })),
  });
}
