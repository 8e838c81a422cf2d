/** Processor time of other processes (Linux): unlike a rate it hardly depends on what else the machine does. */
import { existsSync, readFileSync } from 'node:fs';

/** The kernel counts in hundredths of a second for every program (`getconf CLK_TCK`). */
const tickUs = 10_000;

/** Microseconds so far, in the program itself and in the kernel for it, of all these processes together. */
export function processorUs(pids: readonly number[]): number {
  let ticks = 0;
  for (const pid of pids) {
    const file = `/proc/${String(pid)}/stat`;
    if (!existsSync(file)) continue;
    // After the name, which stands in brackets and may hold anything: fields 14 and 15 of proc(5).
    const fields = readFileSync(file, 'utf8').split(') ').at(-1)?.split(' ') ?? [];
    ticks += Number(fields[11]) + Number(fields[12]);
  }
  return ticks * tickUs;
}
