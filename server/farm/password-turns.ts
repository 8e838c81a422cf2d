/** Password checks one after the other, so that a flood of them can't take the memory. */

export type Turns = <T>(work: () => Promise<T>) => Promise<T>;

/** Rejects at once where `most` wait already. */
export function makeTurns(most = Infinity): Turns {
  let last: Promise<unknown> = Promise.resolve();
  let waiting = 0;
  return <T>(work: () => Promise<T>): Promise<T> => {
    if (waiting >= most) return Promise.reject(new Error('too many passwords are being checked'));
    waiting += 1;
    // Whatever happens to the one before.
    const turn = last.then(work, work).finally(() => {
      waiting -= 1;
    });
    last = turn.catch(() => undefined);
    return turn;
  };
}
