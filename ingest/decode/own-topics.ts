/**
 * Our own convention: `welcomb/<sensor>/<quantity>` or `welcomb/<sensor>/<quantity>/<probe>`, with a plain number or
 * `{"value": 34.6, "time": …, "unit": …}`; and `welcomb/<sensor>` with a SenML pack.
 */
import { isQuantity, quantities, type Quantity } from '../../server/units.ts';
import { toDecoded } from './measurement.ts';
import { ignored, refused, shown, type Decoded, type Message } from './message.ts';
import { isObject, looksLikeJson, readJson, readNumber, readNumeric, readText } from './payload.ts';
import { decodeSenml } from './senml-readings.ts';
import { readInstant } from './time.ts';

export const ownRoot = 'welcomb';
/** Only the server publishes below this. */
export const serverRoot = `${ownRoot}/$server`;
/** Whether the server is there, retained; on an outside broker it is also the last will. */
export const presence = { topic: `${serverRoot}/online`, here: 'true', gone: 'false' } as const;
/** Here, or below it by a site's name, somebody tells the weather to come. */
const forecastRoot = `${ownRoot}/$forecast`;

/** The site that a forecast is for, null for every site; undefined where the topic is none of a forecast. */
export function forecastSite(topic: string): string | null | undefined {
  if (topic === forecastRoot) return null;
  return topic.startsWith(`${forecastRoot}/`) ? topic.slice(forecastRoot.length + 1) : undefined;
}

interface Named {
  readonly sensor: string;
  readonly quantity: Quantity;
  readonly probe: string;
}

/** What a topic says by itself: whose value follows, that a pack does, or what there is to say already. */
type OwnTopic =
  | { readonly kind: 'value'; readonly named: Named }
  | { readonly kind: 'pack'; readonly sensor: string }
  | { readonly kind: 'answer'; readonly decoded: Decoded };

const answer = (decoded: Decoded): OwnTopic => ({ kind: 'answer', decoded });

/** Undefined where the topic is not of this convention. */
function readTopic(topic: string): OwnTopic | undefined {
  const [root, sensor = '', quantity, probe = '', ...more] = topic.split('/');
  if (root !== ownRoot) return undefined;
  if (sensor === '$forecast') return answer(ignored('a forecast, which is no reading'));
  if (sensor === '$server') return answer(ignored('a message of this server'));
  if (sensor === '') return answer(refused('the topic has no sensor name after welcomb/'));
  if (quantity === undefined) return { kind: 'pack', sensor };
  if (!isQuantity(quantity)) {
    const known = quantities.join(', ');
    return answer(refused(`unknown quantity "${shown(quantity)}" in the topic; known are ${known}`));
  }
  if (more.length > 0) {
    return answer(refused('the topic has more levels than welcomb/<sensor>/<quantity>/<probe>'));
  }
  return { kind: 'value', named: { sensor, quantity, probe } };
}

/** A sensor says the same topic for ever; to take it apart costs as much as to read its payload. */
const knownTopics = new Map<string, OwnTopic>();
const mostKnownTopics = 20_000;

function knownTopic(topic: string): OwnTopic | undefined {
  const known = knownTopics.get(topic);
  if (known) return known;
  const found = readTopic(topic);
  if (found?.kind === 'value') {
    if (knownTopics.size >= mostKnownTopics) knownTopics.clear();
    knownTopics.set(topic, found);
  }
  return found;
}

/** Undefined where the topic is not of this convention. */
export function decodeOwnTopic(message: Message): Decoded | undefined {
  const topic = knownTopic(message.topic);
  if (topic?.kind !== 'value')
    return topic?.kind === 'pack' ? decodeSenml(topic.sensor, message) : topic?.decoded;
  return decodePayload(topic.named, message);
}

function decodePayload(named: Named, message: Message): Decoded {
  const text = readText(message.payload);
  if (!text.ok) return refused(text.reason);
  if (!looksLikeJson(text.value)) {
    const plain = readNumber(text.value);
    if (!plain.ok) return refused(`${plain.reason}, nor is the payload JSON`);
    return decodeMeasured(named, plain.value, undefined, undefined, message);
  }
  const json = readJson(text.value, 'the payload looks like JSON and is not');
  if (!json.ok) return refused(json.reason);
  if (!isObject(json.value)) return refused('expected a number or {"value": …, "time": …, "unit": …}');
  return decodeFields(named, json.value, message);
}

function decodeFields(named: Named, fields: Readonly<Record<string, unknown>>, message: Message): Decoded {
  const value = readNumeric(fields['value'], '"value"');
  if (!value.ok) return refused(value.reason);
  const unit = fields['unit'] ?? undefined;
  if (unit !== undefined && typeof unit !== 'string') return refused(`"unit": ${shown(unit)} is not text`);
  return decodeMeasured(named, value.value, unit, fields['time'] ?? undefined, message);
}

function decodeMeasured(
  { sensor, quantity, probe }: Named,
  value: number,
  unit: string | undefined,
  time: unknown,
  message: Message,
): Decoded {
  const claimed = time === undefined ? undefined : readInstant(time);
  if (claimed && !claimed.ok) return refused(claimed.reason);
  return toDecoded({ sensor, quantity, probe, value, unit, claimedMs: claimed?.value }, message);
}
