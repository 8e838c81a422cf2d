/** Messages nobody understood, mappings for them, and the devices that may publish. */
import { readMapping, readMappingFile, type Mapping } from '../../../ingest/decode/mapping-schema.ts';
import { tryMapping } from '../../../ingest/decode/mapping.ts';
import type { Decoded } from '../../../ingest/decode/message.ts';
import { qualityGate } from '../../../ingest/quality.ts';
import {
  quarantineMostATopic,
  quarantineMostRows,
  type QuarantineItem,
} from '../../store/channels/quarantine.ts';
import { hashPassword } from '../../farm/password.ts';
import type { ResponseOf } from '../../contract/index.ts';
import type { Quarantined } from '../../contract/sensors.ts';
import type { AppDeps } from '../deps.ts';
import { activeMappings, notYetThere, readFromQuarantine } from '../../farm/mappings.ts';
import { implement } from '../operation.ts';
import { UserError, notFound } from '../../user-error.ts';
import { iso, isoOrNull } from '../../farm/wire.ts';
import { countsPerStored, rawCounts } from '../../units.ts';

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
    ...implement('listQuarantine', () => ({
      items: store.quarantine.list().map(quarantinedToWire),
      mostATopic: quarantineMostATopic,
      most: quarantineMostRows,
    })),
    ...implement('dropQuarantined', ({ params }) => {
      if (!store.quarantine.remove(params.id)) throw notFound('quarantined message', params.id);
    }),
  };
}

function tried(decoded: Decoded): ResponseOf<'tryMapping'>['readings'] {
  const known = decoded.lastKnown.map((one) => ({
    ...one,
    observedAtMs: one.receivedAtMs,
    suspect: undefined,
  }));
  return [...decoded.readings, ...known].map(
    ({ sensor, quantity, probe, value, unit, observedAtMs, suspect }) => ({
      sensor,
      quantity,
      probe,
      time: iso(observedAtMs),
      ...(suspect === 'uncalibrated'
        ? {
            value: value * countsPerStored,
            unit: rawCounts,
            note: 'no weight yet: calibrate it once it is saved',
          }
        : { value, unit, ...(suspect !== undefined && { note: `kept as suspect: ${suspect}` }) }),
    }),
  );
}

export function mappingRoutes({ store, ingest, events }: AppDeps) {
  const { mappings } = store;
  const takeFromQuarantine = (mapping: Mapping): number => {
    const quality = qualityGate();
    quality.setCalibrated(store.channels.calibrated());
    return readFromQuarantine(store, mapping, quality.judge);
  };
  const tellIngest = (): void => {
    ingest.setMappings(activeMappings(store));
  };
  return {
    ...implement('listMappings', () => ({ items: mappings.list() })),
    ...implement('putMapping', ({ params, body }) => {
      const known = readMapping({ ...body.mapping, name: body.name });
      if (!known.ok) {
        throw new UserError('invalid-input', `This mapping can’t be used: ${known.reason}.`, {
          faults: [{ pointer: '#/mapping', detail: known.reason }],
        });
      }
      const saved = mappings.put({ ...body, id: params.id, mapping: known.value });
      tellIngest();
      if (saved.enabled && takeFromQuarantine(known.value) > 0) events.publish({ type: 'channels' });
      return saved;
    }),
    ...implement('importMappings', ({ body }) => {
      const file = readMappingFile(body);
      if (!file.ok)
        throw new UserError('invalid-input', `Nothing of this file was taken in: ${file.reason}.`);
      const added = notYetThere(store, file.value);
      mappings.putAll(added);
      tellIngest();
      let read = 0;
      for (const { enabled, mapping } of added) if (enabled) read += takeFromQuarantine(mapping);
      if (read > 0) events.publish({ type: 'channels' });
      return { added: added.length, already: file.value.length - added.length };
    }),
    ...implement('deleteMapping', ({ params }) => {
      if (!mappings.remove(params.id)) throw notFound('mapping', params.id);
      tellIngest();
    }),
    ...implement('tryMapping', ({ body, nowMs }) => {
      const known = readMapping({ name: 'tried', ...body.mapping });
      if (!known.ok) return { ok: false, reason: known.reason, readings: [] };
      const payload = new TextEncoder().encode(body.payload);
      const result = tryMapping(known.value, {
        topic: body.topic,
        payload,
        retain: false,
        receivedAtMs: nowMs,
      });
      const readings = result.decoded === undefined ? [] : tried(result.decoded);
      return result.ok ? { ok: true, readings } : { ok: false, reason: result.reason, readings };
    }),
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
        throw new UserError(
          'conflict',
          `There is a device named ${name} already: shut it out first to give it a new password.`,
        );
      }
      const passwordHash = await hashPassword(password);
      devices.add({ name, passwordHash, ownTopicsOnly, createdAtMs: nowMs });
      tellIngest();
      return { name, ownTopicsOnly, createdAt: iso(nowMs), lastSeenAt: null };
    }),
    ...implement('deleteDevice', ({ params }) => {
      if (!devices.remove(params.name)) throw notFound('device', params.name);
      tellIngest();
    }),
  };
}
