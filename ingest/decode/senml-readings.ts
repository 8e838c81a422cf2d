/** Which records of a SenML pack are readings of ours, and of which probe. */
import { isQuantity, quantityOfUnit, type Quantity } from '../../server/units.ts';
import { joinDecoded, toDecoded } from './measurement.ts';
import { refused, shown, type Decoded, type Message } from './message.ts';
import { readJson, readText } from './payload.ts';
import { resolveSenml, type SenmlRecord } from './senml.ts';

interface Named {
  readonly quantity: Quantity;
  readonly probe: string;
}

/**
 * A name is read level by level (`/` or `:`): the sensor's own name in front says nothing new, a quantity names
 * itself, and what remains tells the probe. Where no level is a quantity, the unit decides.
 */
function nameOf(sensor: string, record: SenmlRecord): Named | undefined {
  const { name } = record;
  const inside =
    name === sensor || name.startsWith(`${sensor}/`) || name.startsWith(`${sensor}:`)
      ? name.slice(sensor.length + 1)
      : name;
  const levels = inside.split(/[/:]/);
  const at = levels.findIndex(isQuantity);
  if (at >= 0) {
    const quantity = levels[at] as Quantity;
    const before = levels.slice(0, at).join(':');
    const after = levels.slice(at + 1).join(':');
    return { quantity, probe: [before, after].filter((part) => part !== '').join(':') };
  }
  const quantity = record.unit === undefined ? undefined : quantityOfUnit(record.unit);
  return quantity && { quantity, probe: inside.replace(/[/:]$/, '') };
}

/** In SenML `%` is a ratio from 0 to 1, despite its name (RFC 8428 §12.1). */
const unitOf = (unit: string | undefined): string | undefined => (unit === '%' ? '/' : unit);

function decodeRecord(sensor: string, record: SenmlRecord, message: Message): Decoded | undefined {
  const named = nameOf(sensor, record);
  if (record.value === undefined || !named) return undefined;
  // Relative to the moment of sending, which a retained message does not tell.
  const claimedMs = record.relative && message.retain ? undefined : Math.round(record.timeS * 1000);
  return toDecoded({ sensor, ...named, value: record.value, unit: unitOf(record.unit), claimedMs }, message);
}

/** Records of other things (positions, texts, currents) are passed over; a pack without any reading is not. */
export function decodeSenml(sensor: string, message: Message): Decoded {
  const text = readText(message.payload);
  if (!text.ok) return refused(text.reason);
  const json = readJson(text.value, 'expected a SenML pack, and the payload is not JSON');
  if (!json.ok) return refused(json.reason);
  const records = resolveSenml(json.value, message.receivedAtMs / 1000);
  if (!records.ok) return refused(records.reason);
  const parts = records.value.flatMap((record) => decodeRecord(sensor, record, message) ?? []);
  if (parts.length === 0) {
    const names = records.value.slice(0, 3).map((record) => shown(record.name));
    return refused(
      `no record of the SenML pack is a quantity of ours (${names.join(', ')}); name one or use its unit`,
    );
  }
  return joinDecoded(parts);
}
