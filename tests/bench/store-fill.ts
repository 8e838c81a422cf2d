/** Fills a store as it would be filled in use: group commits as time goes by, days sealed when they are over. */
import type { IncomingReading } from '../../server/store/port.ts';
import type { Store } from '../../server/store/store.ts';
import { benchChannels, benchReadings, type BenchOptions } from '../../simulator/readings-generator.ts';

const dayMs = 86_400_000;

/** Calls `take` with each group of readings, and `dayOver` with each UTC midnight that has passed by an hour. */
export function replayReadings(
  options: BenchOptions,
  take: (readings: readonly IncomingReading[]) => void,
  dayOver: (nowMs: number) => void,
): void {
  const channels = benchChannels(options);
  let nextSealMs = options.fromMs + dayMs + dayMs / 24;
  for (const batch of benchReadings(options)) {
    const readings: IncomingReading[] = [];
    for (let i = 0; i < batch.length; i += 1) {
      const { sensor, quantity, probe, unit } = channels[batch.channel[i]!]!;
      const atMs = batch.atMs[i]!;
      readings.push({
        sensor,
        quantity,
        probe,
        unit,
        value: batch.value[i]!,
        observedAtMs: atMs,
        receivedAtMs: atMs,
      });
    }
    take(readings);
    const nowMs = batch.atMs[batch.length - 1]!;
    if (nowMs < nextSealMs) continue;
    dayOver(nowMs);
    nextSealMs += dayMs;
  }
}

export function fillStore(store: Store, options: BenchOptions): void {
  replayReadings(
    options,
    (readings) => store.ingest.commit({ readings, quarantined: [], lastKnown: [] }),
    (nowMs) => {
      while (store.readings.seal({ endedBeforeMs: nowMs - dayMs / 24 }).more);
    },
  );
}
