/**
 * Our own convention: `welcomb/<sensor>/<quantity>` or `welcomb/<sensor>/<quantity>/<probe>`, with a plain number or
 * `{"value": 34.6, "time": …, "unit": …}`; and `welcomb/<sensor>` with a SenML pack.
 */
import { isQuantity, quantities } from '../../server/units.ts';
import { toDecoded } from './measurement.ts';
import { ignored, refused, shown, type Decoded, type Message } from './message.ts';
import { isObject, looksLikeJson, readJson, readNumber, readNumeric, readText } from './payload.ts';
import { decodeSenml } from './senml-readings.ts';
import { readInstant } from './time.ts';

export const ownRoot = 'welcomb';
/** Below this we speak; devices don't. */
export const serverRoot = `${ownRoot}/$server`;

/** Undefined where the topic is not of this convention. */
export function decodeOwnTopic(message: Message): Decoded | undefined {
  const [root, sensor = '', quantity, probe = '', ...more] = message.topic.split('/');
  if (root !== ownRoot) return undefined;
  if (sensor === '$server') return ignored('a message of this server');
  if (sensor === '') return refused('the topic has no sensor name after welcomb/');
  if (quantity === undefined) return decodeSenml(sensor, message);
  if (!isQuantity(quantity)) {
    return refused(`unknown quantity "${shown(quantity)}" in the topic; known are ${quantities.join(', ')}`);
  }
  if (more.length > 0) return refused('the topic has more levels than welcomb/<sensor>/<quantity>/<probe>');
  const text = readText(message.payload);
  if (!text.ok) return refused(text.reason);
  if (!looksLikeJson(text.value)) {
    const plain = readNumber(text.value);
    if (!plain.ok) return refused(`${plain.reason}, nor is the payload JSON`);
    return toDecoded({ sensor, quantity, probe, value: plain.value }, message);
  }
  const json = readJson(text.value);
  if (!json.ok) return refused('the payload looks like JSON and is not');
  if (!isObject(json.value)) return refused('expected a number or {"value": …, "time": …, "unit": …}');
  return decodeFields({ sensor, quantity, probe }, json.value, message);
}

function decodeFields(
  identity: { sensor: string; quantity: (typeof quantities)[number]; probe: string },
  fields: Readonly<Record<string, unknown>>,
  message: Message,
): Decoded {
  const value = readNumeric(fields['value'], '"value"');
  if (!value.ok) return refused(value.reason);
  const unit = fields['unit'] ?? undefined;
  if (unit !== undefined && typeof unit !== 'string') return refused(`"unit": ${shown(unit)} is not text`);
  const time = fields['time'] ?? undefined;
  const claimed = time === undefined ? undefined : readInstant(time);
  if (claimed && !claimed.ok) return refused(claimed.reason);
  const { sensor, quantity, probe } = identity;
  return toDecoded({ sensor, quantity, probe, value: value.value, unit, claimedMs: claimed?.value }, message);
}
