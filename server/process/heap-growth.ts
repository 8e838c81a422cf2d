/**
 * Lets the V8 heap grow as by default while many readings come in, such as a season that a gateway kept, and restores the
 * small heap afterwards. `heap-flags.ts` keeps the heap small, which suits a farm's usual forty readings a second and costs
 * a third of the processor time at thirty thousand, because objects in use are promoted too early.
 */
import { setFlagsFromString } from 'node:v8';

/** More than a farm's usual minute brings. */
const largeCommitReadings = 300;
const quietMs = 10_000;

/** As `heap-flags.ts` and `young-part.ts` set them, which import nothing else of ours. */
export const smallHeap = ['--heap-growing-percent=15', '--semi-space-growth-factor=1'] as const;
/** V8's defaults. */
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
