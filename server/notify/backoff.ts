/** How long to wait after the n-th failure: half a minute, doubling, never over an hour. */
export function pauseAfterMs(attempts: number, askedForMs = 0): number {
  return Math.max(Math.min(30_000 * 2 ** Math.min(attempts - 1, 10), 3_600_000), askedForMs);
}

/** Old news is not sent for ever: after three days of failing a message is given up, and shown as such. */
export const giveUpAfterMs = 3 * 24 * 3_600_000;
