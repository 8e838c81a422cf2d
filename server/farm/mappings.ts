/** Mappings as ingest uses them, and what a new one does for the messages in the quarantine. */
import { randomUUID } from 'node:crypto';
import type { Mapping, MappingOfFile } from '../../ingest/decode/mapping-schema.ts';
import { readMapping } from '../../ingest/decode/mapping-schema.ts';
import { tryMapping } from '../../ingest/decode/mapping.ts';
import type { IncomingReading } from '../store/port.ts';
import type { Store } from '../store/store.ts';

function saved(store: Store): { enabled: boolean; mapping: Mapping }[] {
  return store.mappings.list().flatMap(({ enabled, mapping }) => {
    const known = readMapping(mapping);
    return known.ok ? [{ enabled, mapping: known.value }] : [];
  });
}

/** Saved and switched on, in the order in which they are tried. */
export const activeMappings = (store: Store): Mapping[] =>
  saved(store).flatMap(({ enabled, mapping }) => (enabled ? [mapping] : []));

/** What a saved file brings that isn't saved already, so that a file may be taken in twice. */
export function notYetThere(
  store: Store,
  file: readonly MappingOfFile[],
): { id: string; name: string; enabled: boolean; mapping: Mapping }[] {
  const there = new Set(saved(store).map(({ mapping }) => JSON.stringify(mapping)));
  return file
    .filter(({ mapping }) => !there.has(JSON.stringify(mapping)))
    .map(({ enabled, mapping }) => ({ id: randomUUID(), name: mapping.name, enabled, mapping }));
}

/**
 * Takes the messages that the mapping understands out of the quarantine and stores their readings, so that a sensor just
 * mapped shows its last message at once; `judge` flags what is suspect. A message that was too long to keep whole stays.
 */
export function readFromQuarantine(
  store: Store,
  mapping: Mapping,
  judge: (reading: IncomingReading) => IncomingReading,
): number {
  let taken = 0;
  // Oldest first, as they came.
  for (const { id, topic, payload, payloadBytes, receivedAtMs, retained } of store.quarantine
    .list()
    .reverse()) {
    if (payload.length < payloadBytes) continue;
    const result = tryMapping(mapping, { topic, payload, retain: retained, receivedAtMs });
    if (!result.ok) continue;
    const { readings, lastKnown } = result.decoded;
    store.ingest.commit({
      readings: readings.map(judge),
      lastKnown,
      quarantined: [],
    });
    store.quarantine.remove(id);
    taken += 1;
  }
  return taken;
}
