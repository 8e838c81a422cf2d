/** Mappings as ingest uses them, and what a new one does for the messages in the quarantine tray. */
import type { Mapping } from '../../ingest/decode/mapping-schema.ts';
import { readMapping } from '../../ingest/decode/mapping-schema.ts';
import { tryMapping } from '../../ingest/decode/mapping.ts';
import type { Store } from '../store/store.ts';

/** Saved and switched on, in the order in which they are tried. */
export const activeMappings = (store: Store): Mapping[] =>
  store.mappings.list().flatMap(({ enabled, mapping }) => {
    const known = readMapping(mapping);
    return enabled && known.ok ? [known.value] : [];
  });

/**
 * Takes the messages that the mapping understands out of the tray and stores their readings, so that a sensor just
 * mapped shows its last message at once. A message that was too long to keep whole stays.
 */
export function readFromTray(store: Store, mapping: Mapping): number {
  let taken = 0;
  for (const { id, topic, payload, payloadBytes, receivedAtMs } of store.quarantine.list()) {
    if (payload.length < payloadBytes) continue;
    const result = tryMapping(mapping, { topic, payload, retain: false, receivedAtMs });
    if (!result.ok) continue;
    store.ingest.commit({ ...result.decoded, quarantined: [] });
    store.quarantine.remove(id);
    taken += 1;
  }
  return taken;
}
