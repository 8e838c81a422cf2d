/** A long file in short pieces: the thread is left to others every few milliseconds. */
import { setImmediate as othersFirst } from 'node:timers/promises';

const pieceMs = 10;

export interface Pace {
  /** To be awaited after each line; returns at once while there is time left. */
  rest(): Promise<void> | undefined;
}

export function createPace(): Pace {
  let sinceMs = performance.now();
  return {
    rest() {
      if (performance.now() - sinceMs < pieceMs) return undefined;
      return othersFirst().then(() => {
        sinceMs = performance.now();
      });
    },
  };
}

/** Reads what is left of a body and forgets it: a client that still sends would not see an answer. */
export async function drain(bytes: AsyncIterable<unknown>): Promise<void> {
  const pieces = bytes[Symbol.asyncIterator]();
  for (let next = await pieces.next(); next.done !== true; next = await pieces.next());
}
