/** Messages nobody understood, mappings for them, and the devices that may publish. */
import type { QuarantineItem } from '../../store/quarantine.ts';
import { hashPassword } from '../access/password.ts';
import type { Quarantined } from '../contract/sensors.ts';
import type { AppDeps } from '../deps.ts';
import { implement } from '../operation.ts';
import { Refusal, notThere } from '../problem.ts';
import { iso, isoOrNull } from '../wire.ts';

/** Text where it is text; what can't be shown becomes a replacement character. */
const payloadText = (payload: Uint8Array): string => new TextDecoder('utf-8').decode(payload);

const quarantinedToWire = (item: QuarantineItem): Quarantined => ({
  id: item.id,
  topic: item.topic,
  payloadText: payloadText(item.payload),
  payloadBytes: item.payloadBytes,
  reason: item.reason,
  receivedAt: iso(item.receivedAtMs),
  times: item.times,
});

export function quarantineRoutes({ store }: AppDeps) {
  return {
    ...implement('listQuarantine', () => ({ items: store.quarantine.list().map(quarantinedToWire) })),
    ...implement('dropQuarantined', ({ params }) => {
      if (!store.quarantine.remove(params.id)) throw notThere('quarantined message', params.id);
    }),
  };
}

export function mappingRoutes({ store, ingest }: AppDeps) {
  const { mappings } = store;
  const tellIngest = (): void => {
    ingest.setMappings(mappings.list());
  };
  return {
    ...implement('listMappings', () => ({ items: mappings.list() })),
    ...implement('putMapping', ({ params, body }) => {
      const problems = ingest.checkMapping(body.mapping);
      if (problems.length > 0) {
        const faults = problems.map((detail) => ({ pointer: '#/mapping', detail }));
        throw new Refusal(400, `This mapping can't be used: ${problems.join('; ')}.`, { faults });
      }
      const saved = { id: params.id, ...body };
      mappings.put(saved);
      tellIngest();
      return saved;
    }),
    ...implement('deleteMapping', ({ params }) => {
      if (!mappings.remove(params.id)) throw notThere('mapping', params.id);
      tellIngest();
    }),
    ...implement('tryMapping', ({ body, nowMs }) =>
      ingest.tryMapping(body.mapping, body.topic, new TextEncoder().encode(body.payload), nowMs),
    ),
  };
}

export function deviceRoutes({ store, ingest }: AppDeps) {
  const { devices } = store;
  const tellIngest = (): void => {
    ingest.setDevices(devices.list());
  };
  return {
    ...implement('listDevices', () => ({
      items: devices.list().map(({ name, ownTopicsOnly, createdAtMs, lastSeenAtMs }) => ({
        name,
        ownTopicsOnly,
        createdAt: iso(createdAtMs),
        lastSeenAt: isoOrNull(lastSeenAtMs),
      })),
    })),
    ...implement('addDevice', async ({ body, nowMs }) => {
      const { name, password, ownTopicsOnly } = body;
      if (devices.get(name)) {
        throw new Refusal(
          409,
          `There is a device named ${name} already: shut it out first to give it a new password.`,
        );
      }
      const passwordHash = await hashPassword(password);
      devices.add({ name, passwordHash, ownTopicsOnly, createdAtMs: nowMs });
      tellIngest();
      return { name, ownTopicsOnly, createdAt: iso(nowMs), lastSeenAt: null };
    }),
    ...implement('deleteDevice', ({ params }) => {
      if (!devices.remove(params.name)) throw notThere('device', params.name);
      tellIngest();
    }),
  };
}
