/**
 * The de-facto discovery messages of home-automation hubs: `<prefix>/sensor/[<node>/]<object>/config` holds JSON that
 * says on which topic a sensor tells its state, in which unit, and by which value template. Sensors of our quantities
 * are taken up; readings then come on their state topics.
 */
import { isQuantity, quantityOfUnit, toStoredUnit, type Quantity } from '../../server/units.ts';
import { guessField, wordsOf } from './field-names.ts';
import type { AnnouncedSensor, DecoderMemory, Learned } from './memory.ts';
import { joinDecoded, readName, toDecoded } from './measurement.ts';
import { ignored, read, refused, shown, unread, type Decoded, type Message, type Read } from './message.ts';
import { ownRoot } from './own-topics.ts';
import { isObject, readJson, readNumber, readText } from './payload.ts';
import { compileTemplate, evaluateTemplate } from './value-template.ts';

export interface DiscoveryDecoded {
  readonly decoded: Decoded;
  readonly learned: readonly Learned[];
}

/** Filters under which configurations come, whatever the hub's prefix is. */
export const discoveryFilters = ['+/sensor/+/config', '+/sensor/+/+/config'] as const;

type Config = Readonly<Record<string, unknown>>;

/** A key by its full or its short name. */
const textOf = (config: Config, ...names: readonly string[]): string | undefined => {
  const value = names.map((name) => config[name]).find((candidate) => typeof candidate === 'string');
  return typeof value === 'string' && value !== '' ? value : undefined;
};

const byClass: Readonly<Record<string, Quantity>> = {
  temperature: 'temperature',
  humidity: 'humidity',
  weight: 'weight',
  battery: 'battery',
  precipitation: 'rain',
};

function quantityOf(config: Config, object: string, unit: string | undefined): Quantity | undefined {
  const named = textOf(config, 'device_class', 'dev_cla');
  if (named !== undefined && Object.hasOwn(byClass, named)) return byClass[named];
  const guess = guessField(object)?.quantity;
  if (named === 'voltage') return guess === 'battery' ? 'battery' : undefined;
  if (named !== undefined) return undefined;
  const ofUnit = unit === undefined ? undefined : quantityOfUnit(unit);
  return ofUnit === 'battery' ? guess : (ofUnit ?? guess);
}

function deviceOf(config: Config, node: string | undefined, object: string): string {
  const device = config['device'] ?? config['dev'];
  const listed = isObject(device) ? (device['identifiers'] ?? device['ids']) : undefined;
  const id: unknown = Array.isArray(listed) ? listed[0] : listed;
  return node ?? (typeof id === 'string' && id !== '' ? id : object);
}

function nameOf(config: Config): string | undefined {
  const device = config['device'] ?? config['dev'];
  return isObject(device) ? readName(device['name']) : undefined;
}

/** `hive3_brood` of the sensor `hive-3` is its probe `brood`. */
function withoutSensor(probe: string, sensor: string): string {
  const own = wordsOf(sensor).join('-');
  if (probe === own) return '';
  return probe.startsWith(`${own}-`) ? probe.slice(own.length + 1) : probe;
}

/** What is left of the object's name after the sensor and the quantity are taken off. */
function probeOf(object: string, sensor: string, quantity: Quantity): string {
  if (object === sensor) return '';
  const inside = object.startsWith(`${sensor}_`) ? object.slice(sensor.length + 1) : object;
  const guess = guessField(inside);
  if (guess) return guess.quantity === quantity ? withoutSensor(guess.probe, sensor) : inside;
  return isQuantity(inside) ? '' : inside;
}

/** `~` at either end of a topic stands for the base topic. */
function expand(topic: string, base: string | undefined): string {
  if (base === undefined) return topic;
  if (topic.startsWith('~')) return base + topic.slice(1);
  return topic.endsWith('~') ? topic.slice(0, -1) + base : topic;
}

function sensorOf(
  config: Config,
  node: string | undefined,
  object: string,
): Read<AnnouncedSensor | undefined> {
  const unit = textOf(config, 'unit_of_measurement', 'unit_of_meas');
  const quantity = quantityOf(config, object, unit);
  const topic = textOf(config, 'state_topic', 'stat_t');
  if (!quantity || topic === undefined) return read(undefined);
  const stateTopic = expand(topic, textOf(config, '~'));
  if (stateTopic.startsWith(`${ownRoot}/`)) return read(undefined);
  const known = toStoredUnit(quantity, 0, unit);
  if (!known.ok) return unread(known.reason);
  const template = textOf(config, 'value_template', 'val_tpl');
  const compiled = template === undefined ? undefined : compileTemplate(template);
  if (compiled && !compiled.ok) return compiled;
  const sensor = deviceOf(config, node, object);
  return read({
    stateTopic,
    sensor,
    quantity,
    probe: probeOf(object, sensor, quantity),
    ...(unit === undefined ? {} : { unit }),
    ...(template === undefined ? {} : { template }),
  });
}

/** Announced by this program, for home hubs: what a nuc needs is no reading. */
function isOurs(config: Config): boolean {
  const origin = config['origin'] ?? config['o'];
  return isObject(origin) && origin['name'] === 'Welcomb';
}

const notAnObject = 'the discovery message is not a JSON object';

function learnConfig(
  key: string,
  node: string | undefined,
  object: string,
  message: Message,
): DiscoveryDecoded {
  const forget: Learned = { kind: 'announced', key, sensor: undefined };
  if (message.payload.length === 0) return { decoded: ignored('a sensor was withdrawn'), learned: [forget] };
  const text = readText(message.payload);
  const json = text.ok ? readJson(text.value, notAnObject) : text;
  if (!json.ok || !isObject(json.value)) {
    return { decoded: refused(json.ok ? notAnObject : json.reason), learned: [] };
  }
  if (isOurs(json.value))
    return { decoded: ignored('this server announced it to home hubs'), learned: [forget] };
  const sensor = sensorOf(json.value, node, object);
  if (!sensor.ok) {
    return {
      decoded: refused(`the sensor "${shown(object)}" was announced: ${sensor.reason}`),
      learned: [forget],
    };
  }
  const learned: Learned[] = [{ kind: 'announced', key, sensor: sensor.value }];
  const name = nameOf(json.value);
  if (sensor.value && name !== undefined && name !== sensor.value.sensor)
    learned.push({ kind: 'name', key: sensor.value.sensor, name });
  return { decoded: ignored('a sensor was announced'), learned };
}

function decodeState(announced: AnnouncedSensor, message: Message): Decoded {
  const text = readText(message.payload);
  if (!text.ok) return refused(text.reason);
  const { template } = announced;
  const value = template === undefined ? readNumber(text.value) : evaluateTemplate(template, text.value);
  return value.ok ? toDecoded({ ...announced, value: value.value }, message) : refused(value.reason);
}

/** Undefined where the topic is neither a configuration nor the state of an announced sensor. */
export function decodeDiscovery(message: Message, memory: DecoderMemory): DiscoveryDecoded | undefined {
  const levels = message.topic.split('/');
  if (levels[1] === 'sensor' && levels.at(-1) === 'config' && (levels.length === 4 || levels.length === 5)) {
    const [node, object = ''] = levels.length === 5 ? [levels[2], levels[3]] : [undefined, levels[2]];
    return learnConfig(message.topic, node, object, message);
  }
  const keys = memory.byStateTopic.get(message.topic);
  if (!keys) return undefined;
  const parts = [...keys].flatMap((key) => {
    const announced = memory.announced.get(key);
    return announced ? [decodeState(announced, message)] : [];
  });
  return { decoded: joinDecoded(parts), learned: [] };
}
