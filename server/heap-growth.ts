/**
 * Gives the JavaScript engine room while a flood of readings comes in, such as a season that a gateway kept, and takes it
 * back afterwards. `heap-flags.ts` keeps the heap close, which suits a farm's usual forty readings a second and costs
 * a third of the processor time at thirty thousand, because what is under way is taken for something that lasts.
 */
import { setFlagsFromString } from 'node:v8';

/** A commit of so many readings is no farm's usual minute. */
const largeCommitReadings = 300;
const quietMs = 10_000;

/** As `heap-flags.ts` sets them, which imports nothing of ours. */
export const smallHeap = ['--heap-growing-percent=15', '--semi-space-growth-factor=1'] as const;
/** The engine's own defaults. */
const defaultHeap = ['--heap-growing-percent=0', '--semi-space-growth-factor=2'] as const;

export interface HeapGrowth {
  committed(readings: number): void;
}

export function heapGrowth(setFlag: (flag: string) => void = setFlagsFromString): HeapGrowth {
  let quiet: NodeJS.Timeout | undefined;
  const restore = (): void => {
    quiet = undefined;
    for (const flag of smallHeap) setFlag(flag);
  };
  return {
    committed(readings) {
      if (readings < largeCommitReadings) return;
      if (quiet) {
        quiet.refresh();
        return;
      }
      for (const flag of defaultHeap) setFlag(flag);
      quiet = setTimeout(restore, quietMs);
      quiet.unref();
    },
  };
}
