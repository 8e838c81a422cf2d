/** Programs that some tests need. Missing in CI: the test fails; missing on a user's machine: it says so and is skipped. */
import { accessSync, constants } from 'node:fs';
import { delimiter, join } from 'node:path';

const folders = [...(process.env['PATH'] ?? '').split(delimiter), '/usr/sbin', '/usr/local/sbin'];

function findProgram(...names: readonly string[]): string | undefined {
  for (const name of names) {
    for (const folder of folders) {
      const file = join(folder, name);
      try {
        accessSync(file, constants.X_OK);
        return file;
      } catch {
        // Not here: look on.
      }
    }
  }
  return undefined;
}

/** For `describe.skipIf(missing(...))`: true where the program is absent and this is not CI. */
export function missing(what: string, program: string | undefined): boolean {
  if (program !== undefined || process.env['CI'] !== undefined) return false;
  console.warn(`Skipped: ${what} is not installed on this machine.`);
  return true;
}

export const mosquitto = findProgram('mosquitto');
export const nginx = findProgram('nginx');
/** The whole browser: what shows notifications, and what a user has. */
export const wholeChromium = findProgram('chromium', 'chromium-browser', 'google-chrome');
/** The same engine without windows starts and draws in half the time. */
export const chromium = findProgram('chromium-headless-shell') ?? wholeChromium;
