/**
 * Gives the JavaScript engine room while a flood of readings comes in, such as a season that a gateway kept, and takes it
 * back afterwards. `engine-memory.ts` keeps the heap close, which suits a farm's usual forty readings a second and costs
 * a third of the processor time at thirty thousand, because what is under way is taken for something that lasts.
 */
import { setFlagsFromString } from 'node:v8';

/** A commit of so many readings is no farm's usual minute. */
const floodReadings = 300;
const calmMs = 10_000;

/** As `engine-memory.ts` sets them, which imports nothing of ours. */
export const closeHeap = ['--heap-growing-percent=15', '--semi-space-growth-factor=1'] as const;
/** The engine's own defaults. */
const roomyHeap = ['--heap-growing-percent=0', '--semi-space-growth-factor=2'] as const;

export interface FloodRoom {
  committed(readings: number): void;
}

export function floodRoom(setFlag: (flag: string) => void = setFlagsFromString): FloodRoom {
  let calm: NodeJS.Timeout | undefined;
  const takeBack = (): void => {
    calm = undefined;
    for (const flag of closeHeap) setFlag(flag);
  };
  return {
    committed(readings) {
      if (readings < floodReadings) return;
      if (calm) {
        calm.refresh();
        return;
      }
      for (const flag of roomyHeap) setFlag(flag);
      calm = setTimeout(takeBack, calmMs);
      calm.unref();
    },
  };
}
