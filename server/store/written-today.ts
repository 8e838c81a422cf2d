/** What this process has caused to be written to disk today, as Linux counts it: cards wear by that. */
import { readFileSync } from 'node:fs';
import { dayOf } from './readings/day-readings.ts';

function writtenSoFar(): number | null {
  try {
    const found = /^write_bytes: (\d+)$/m.exec(readFileSync('/proc/self/io', 'utf8'));
    return found ? Number(found[1]) : null;
  } catch {
    return null;
  }
}

/** Bytes since UTC midnight, or since the start where that was later; null where the system does not count. */
export function makeWrittenToday(nowMs: () => number): () => number | null {
  let day = dayOf(nowMs());
  let atDayStart = writtenSoFar();
  return () => {
    const now = writtenSoFar();
    if (now === null || atDayStart === null) return null;
    const today = dayOf(nowMs());
    if (today !== day) {
      day = today;
      atDayStart = now;
    }
    return now - atDayStart;
  };
}
