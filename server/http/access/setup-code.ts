/**
 * The one-time code that the first password, or a backup brought back before it, takes over HTTP.
 *
 * It is asked for always, at the machine itself too. A relay on the machine (a port forward, or a proxy that adds no
 * header) connects from loopback and may send any Host, so nothing in a request tells somebody at the machine from
 * somebody behind the relay. Who can read the server's output or its data folder can.
 */
import { randomInt, timingSafeEqual } from 'node:crypto';
import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { UserError } from '../../user-error.ts';
import { hashOfSecret } from '../../farm/secrets.ts';

/** Crockford's base 32: no letter that is read as another letter or as a digit. */
const letters = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';
const windowMs = 15 * 60_000;
/** In a quarter of an hour, from whatever address: 40 random bits are out of reach for ages. */
export const wrongCodes = 20;
export const setupCodeFile = 'setup-code.txt';

export interface SetupCode {
  readonly text: string;
  /** Where it can be read as well; null where the file could not be written. */
  readonly file: string | null;
  /** Throws `UserError` unless it is the code. */
  check(given: string | undefined, nowMs: number): void;
  /** It has served: the file goes, and no code is right any more. */
  end(): void;
}

const newCode = (): string => {
  const drawn = Array.from({ length: 8 }, () => letters[randomInt(letters.length)] ?? '').join('');
  return `${drawn.slice(0, 4)}-${drawn.slice(4)}`;
};
const asTyped = (code: string): string =>
  code
    .toUpperCase()
    .replace(/[^0-9A-Z]/g, '')
    .replaceAll('O', '0')
    .replace(/[IL]/g, '1');

const asksFor = `Give the setup code: the server printed it when it started, and it is in ${setupCodeFile} in its data folder.`;

function written(file: string, text: string): string | null {
  try {
    rmSync(file, { force: true });
    writeFileSync(file, `${text}\n`, { mode: 0o600, flag: 'wx' });
    return file;
  } catch {
    // Printed it is still.
    return null;
  }
}

/** A new code in the data folder. */
export function createSetupCode(folder: string): SetupCode {
  const text = newCode();
  const file = written(join(folder, setupCodeFile), text);
  const right = Buffer.from(hashOfSecret(asTyped(text)));
  let ended = false;
  let wrong: number[] = [];
  return {
    text,
    file,
    check(given, nowMs) {
      wrong = wrong.filter((atMs) => nowMs - atMs < windowMs);
      if (wrong.length >= wrongCodes) {
        throw new UserError('too-many-attempts', 'Too many wrong setup codes: wait a quarter of an hour.', {
          retryAfterS: windowMs / 1000,
        });
      }
      if (given === undefined || given.trim() === '') throw new UserError('setup-code-required', asksFor);
      if (!ended && timingSafeEqual(Buffer.from(hashOfSecret(asTyped(given))), right)) return;
      wrong.push(nowMs);
      throw new UserError('setup-code-required', `This is not the setup code. ${asksFor}`);
    },
    end() {
      ended = true;
      dropSetupCode(folder);
    },
  };
}

/** Takes away the file of a code that is needed no more. */
export function dropSetupCode(folder: string): void {
  rmSync(join(folder, setupCodeFile), { force: true });
}
