import { dayMs, hourMs } from '../durations.ts';

/** How long to wait after the n-th failure: half a minute, doubling, never over an hour; up to a day where asked to. */
export function pauseAfterMs(attempts: number, askedForMs = 0): number {
  return Math.max(Math.min(30_000 * 2 ** Math.min(attempts - 1, 10), hourMs), Math.min(askedForMs, dayMs));
}

/** Old news is not sent for ever: after three days of failing a message is given up, and shown as such. */
export const giveUpAfterMs = 3 * dayMs;
