/** A mapping as it is made on the page, from a message that came in; and the JSON that is saved. Pure. */
import type { Channel } from '../../server/contract/sensors.ts';
import type { Leaf } from './leaves.ts';
import { numberIn } from './leaves.ts';

type Quantity = Channel['quantity'];

export interface DraftValue {
  readonly pointer: string;
  readonly quantity: Quantity;
  readonly unit: string;
  readonly probe: string;
}
export interface Draft {
  readonly name: string;
  readonly topic: string;
  /** Level of the topic that names the sensor; -1 where the name is fixed. */
  readonly sensorLevel: number;
  readonly sensorText: string;
  readonly values: readonly DraftValue[];
}

/** First match wins; the unit is the likeliest, the keeper sees what comes of it before saving. */
const guesses: readonly (readonly [RegExp, Quantity, string])[] = [
  [/temp\w*f$|fahrenheit/i, 'temperature', '°F'],
  [/temp|celsius|(^|_)t\d?$/i, 'temperature', 'Cel'],
  [/weight_?g$|grams?$/i, 'weight', 'g'],
  [/weight_?lb|pound/i, 'weight', 'lb'],
  [/(weight|mass|scale|load|cell)\w*(raw|counts?|adc)$/i, 'weight', 'counts'],
  [/weight|mass|scale|(^|_)kg$/i, 'weight', 'kg'],
  [/humid|(^|_)rh$/i, 'humidity', '%RH'],
  [/batt.*(mv)$/i, 'battery', 'mV'],
  [/batt.*(v|volts?|voltage)$/i, 'battery', 'V'],
  [/batt/i, 'battery', '%EL'],
  [/rain|precip/i, 'rain', 'mm'],
];

const lastKey = (pointer: string): string => pointer.split('/').at(-1) ?? '';

export function guess(pointer: string): { readonly quantity: Quantity; readonly unit: string } | undefined {
  const found = guesses.find(([pattern]) => pattern.test(lastKey(pointer)));
  return found && { quantity: found[1], unit: found[2] };
}

/** A battery of 3.7 is no 3.7 per cent: as the server reads one that names no unit. */
function unitAt({ pointer }: Leaf, value: number, unit: string): string {
  if (unit !== '%EL' || /pct|percent/i.test(lastKey(pointer))) return unit;
  if (value > 1 && value < 5 && !Number.isInteger(value)) return 'V';
  return value > 1000 ? 'mV' : unit;
}

export const unitsFor: Readonly<Record<Quantity, readonly string[]>> = {
  weight: ['kg', 'g', 'lb', 'oz', 'counts'],
  temperature: ['Cel', '°F', 'K'],
  humidity: ['%RH', '/'],
  battery: ['%EL', 'V', 'mV', '/'],
  rain: ['mm', 'in'],
};

/** As the keeper reads them; the others say themselves what they are. */
export const unitWords: Readonly<Record<string, string>> = {
  Cel: '°C',
  '%RH': '%',
  '%EL': '%',
  '/': 'parts of 1',
  counts: 'raw counts, to be calibrated',
};

/** Two values of one quantity are told apart by their key. */
function withProbes(values: readonly DraftValue[]): readonly DraftValue[] {
  return values.map((value) => {
    const twins = values.filter((other) => other.quantity === value.quantity);
    return twins.length > 1 && value.probe === ''
      ? { ...value, probe: lastKey(value.pointer) || 'value' }
      : value;
  });
}

export function draftFrom(topic: string, leaves: readonly Leaf[] | undefined): Draft {
  const levels = topic.split('/');
  const values = (leaves ?? []).flatMap((leaf) => {
    const found = guess(leaf.pointer === '' ? `/${levels.at(-1) ?? ''}` : leaf.pointer);
    const value = numberIn(leaf);
    if (!found || value === undefined) return [];
    return [{ pointer: leaf.pointer, probe: '', ...found, unit: unitAt(leaf, value, found.unit) }];
  });
  return {
    name: `Messages like ${topic}`.slice(0, 100),
    topic,
    sensorLevel: levels.length > 1 ? 1 : 0,
    sensorText: '',
    values: withProbes(values),
  };
}

/** The filter with the sensor's level open, so that its brothers are read as well. */
export function topicFilter(draft: Draft): string {
  return draft.topic
    .split('/')
    .map((level, i) => (i === draft.sensorLevel ? '+sensor' : level))
    .join('/');
}

export function toMapping(draft: Draft): Record<string, unknown> {
  return {
    name: draft.name,
    topic: topicFilter(draft),
    sensor: draft.sensorLevel >= 0 ? { level: 'sensor' } : { text: draft.sensorText },
    values: draft.values.map(({ pointer, quantity, unit, probe }) => ({
      quantity,
      ...(pointer === '' ? {} : { pointer }),
      unit,
      ...(probe === '' ? {} : { probe }),
    })),
  };
}
