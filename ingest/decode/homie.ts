/**
 * The Homie convention, version 5 (`homie/5/<device>/…`, described by one JSON document) and version 4
 * (`homie/<device>/…`, described attribute by attribute). Values of properties that are quantities of ours become
 * readings; everything else of the convention is passed over.
 */
import { isQuantity, quantityOfUnit, type Quantity } from '../../server/units.ts';
import { guessField } from './field-names.ts';
import type { DecoderMemory, DescribedProperty, Learned } from './memory.ts';
import { readName, toDecoded } from './measurement.ts';
import { ignored, refused, shown, type Decoded, type Message } from './message.ts';
import { isObject, readJson, readNumber, readText } from './payload.ts';

export interface HomieDecoded {
  readonly decoded: Decoded;
  readonly learned: readonly Learned[];
}

const only = (decoded: Decoded): HomieDecoded => ({ decoded, learned: [] });
const maxProperties = 500;

/** A humidity and a charge both come in `%`: there the property's name decides. */
function quantityOf(property: string, node: string, unit: string | undefined): Quantity | undefined {
  if (isQuantity(property)) return property;
  const byName = guessField(property)?.quantity ?? guessField(node)?.quantity;
  if (byName) return byName;
  const byUnit = unit === undefined ? undefined : quantityOfUnit(unit);
  return byUnit === 'battery' ? undefined : byUnit;
}

/** `isNumber`: its datatype can hold a quantity, as far as the message tells it. */
function propertyOf(
  property: string,
  node: string,
  unit: string | undefined,
  isNumber: boolean,
): DescribedProperty {
  const quantity = isNumber ? quantityOf(property, node, unit) : undefined;
  return { ...(quantity ? { quantity } : {}), ...(unit === undefined ? {} : { unit }) };
}

const isNumeric = (datatype: unknown): boolean => datatype === 'float' || datatype === 'integer';

function named(device: string, value: unknown): readonly Learned[] {
  const name = readName(value);
  return name === undefined || name === device ? [] : [{ kind: 'name', key: device, name }];
}

function learnName(device: string, message: Message): HomieDecoded {
  const text = readText(message.payload);
  return { decoded: ignored('a name'), learned: text.ok ? named(device, text.value) : [] };
}

function learnDescription(device: string, message: Message): HomieDecoded {
  if (message.payload.length === 0) return only(ignored('the device took its description back'));
  const text = readText(message.payload);
  const notJson = `the description of ${shown(device)} is not JSON`;
  const json = text.ok ? readJson(text.value, notJson) : text;
  if (!json.ok || !isObject(json.value)) return only(refused(json.ok ? notJson : json.reason));
  const nodes = isObject(json.value['nodes']) ? json.value['nodes'] : {};
  const learned = Object.entries(nodes).flatMap(([node, described]) => {
    const properties =
      isObject(described) && isObject(described['properties']) ? described['properties'] : {};
    return Object.entries(properties).map(([property, fields]): Learned => {
      const { unit, datatype } = isObject(fields) ? fields : {};
      const known = typeof unit === 'string' ? unit : undefined;
      return {
        kind: 'property',
        key: `${device}/${node}/${property}`,
        property: propertyOf(property, node, known, isNumeric(datatype)),
      };
    });
  });
  const called = named(device, json.value['name']);
  return { decoded: ignored('a description'), learned: [...called, ...learned.slice(0, maxProperties)] };
}

function decodeValue(
  device: string,
  key: string,
  [node, property]: readonly [string, string],
  message: Message,
  memory: DecoderMemory,
): Decoded {
  const described = memory.properties.get(key);
  if (!described) {
    // Retained values come in any order; the device's next value finds it described.
    return message.retain
      ? ignored('a value before its description')
      : refused(`the device ${shown(device)} has not described ${shown(`${node}/${property}`)} yet`);
  }
  const { quantity, unit } = described;
  if (!quantity) return ignored('no quantity of ours');
  const text = readText(message.payload);
  if (!text.ok) return refused(text.reason);
  const value = readNumber(text.value);
  if (!value.ok) return refused(value.reason);
  const probe = property === quantity ? node : `${node}:${property}`;
  return toDecoded({ sensor: device, quantity, probe, value: value.value, unit }, message);
}

function learnAttribute(
  key: string,
  levels: readonly string[],
  message: Message,
  memory: DecoderMemory,
): HomieDecoded {
  const [node = '', property = '', attribute] = levels;
  const text = readText(message.payload);
  if (!text.ok || (attribute !== '$unit' && attribute !== '$datatype')) return only(ignored('an attribute'));
  const described =
    attribute === '$unit'
      ? propertyOf(property, node, text.value, true)
      : propertyOf(property, node, memory.properties.get(key)?.unit, isNumeric(text.value));
  return { decoded: ignored('an attribute'), learned: [{ kind: 'property', key, property: described }] };
}

/** Undefined where the topic is not of this convention. */
export function decodeHomie(message: Message, memory: DecoderMemory): HomieDecoded | undefined {
  const [root, ...levels] = message.topic.split('/');
  if (root !== 'homie') return undefined;
  const five = levels[0] === '5';
  const [device = '', ...inside] = five ? levels.slice(1) : levels;
  const [node = '', property, more] = inside;
  if (device === '' || device.startsWith('$')) return only(ignored('a broadcast'));
  if (five && node === '$description') return learnDescription(device, message);
  if (!five && node === '$name' && property === undefined) return learnName(device, message);
  if (node === '' || node.startsWith('$') || property === undefined || property.startsWith('$')) {
    return only(ignored('an attribute'));
  }
  const key = `${device}/${node}/${property}`;
  if (more === 'set' || more === '$target') return only(ignored('a command'));
  if (more !== undefined)
    return five ? only(ignored('an attribute')) : learnAttribute(key, inside, message, memory);
  return only(decodeValue(device, key, [node, property], message, memory));
}
