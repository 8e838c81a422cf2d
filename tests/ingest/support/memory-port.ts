/** A port that keeps what is committed in memory, can fail on demand, and counts commits. */
import type { CommitResult, IngestBatch, IngestPort, StoredReading } from '../../../server/store/port.ts';

export interface MemoryPort extends IngestPort {
  readonly batches: IngestBatch[];
  /** While set, every commit throws it. */
  failure: Error | undefined;
  attempts: number;
}

export function memoryPort(): MemoryPort {
  const values = new Map<string, number>();
  const channels = new Map<string, number>();
  const port: MemoryPort = {
    batches: [],
    failure: undefined,
    attempts: 0,
    commit(batch): CommitResult {
      port.attempts += 1;
      if (port.failure) throw port.failure;
      port.batches.push(batch);
      const stored: StoredReading[] = [];
      let duplicates = 0;
      let conflicts = 0;
      for (const { sensor, quantity, probe, observedAtMs, value, suspect } of batch.readings) {
        const channel = `${sensor}/${quantity}/${probe}`;
        const channelId = channels.get(channel) ?? channels.size + 1;
        channels.set(channel, channelId);
        const key = `${channel}@${String(observedAtMs)}`;
        const before = values.get(key);
        if (before === value) duplicates += 1;
        else if (before !== undefined) conflicts += 1;
        else {
          values.set(key, value);
          stored.push({ channelId, observedAtMs, value, suspect: suspect !== undefined });
        }
      }
      return { stored, duplicates, conflicts };
    },
  };
  return port;
}
