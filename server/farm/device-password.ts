/** Passwords of devices: their checks wait in a queue of their own, so that no flood of them holds up people. */
import { isPassword, nobodysHash } from './password.ts';
import { makeTurns } from './password-turns.ts';

/** At a tenth of a second each, the last one waits five seconds. */
const mostWaiting = 50;
const turns = makeTurns(mostWaiting);

/** Takes as long for an unknown device, which has no hash. Rejects when too many wait already. */
export const isDevicePassword = (password: string, hash: string | undefined): Promise<boolean> =>
  isPassword(password, hash ?? nobodysHash, turns);
