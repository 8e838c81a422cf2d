/** What the name of a JSON field says about quantity, unit and probe: `brood_temp_f` → temperature, °F, "brood". */
import type { Quantity } from '../../server/units.ts';

export interface FieldGuess {
  readonly quantity: Quantity;
  readonly unit?: string;
  readonly probe: string;
}

const quantityWords: Readonly<Record<string, Quantity>> = {
  weight: 'weight',
  mass: 'weight',
  temperature: 'temperature',
  temp: 'temperature',
  humidity: 'humidity',
  hum: 'humidity',
  rh: 'humidity',
  battery: 'battery',
  batt: 'battery',
  bat: 'battery',
  vbat: 'battery',
  rain: 'rain',
  rainfall: 'rain',
  precipitation: 'rain',
};
const unitWords: Readonly<Record<Quantity, Readonly<Record<string, string>>>> = {
  weight: { kg: 'kg', g: 'g', lb: 'lb', lbs: 'lb', oz: 'oz', grams: 'g' },
  temperature: { c: 'Cel', celsius: 'Cel', f: '°F', fahrenheit: '°F', k: 'K' },
  humidity: { pct: '%', percent: '%' },
  battery: { v: 'V', volt: 'V', voltage: 'V', mv: 'mV', vbat: 'V', pct: '%', percent: '%' },
  rain: { mm: 'mm', in: 'in' },
};
/** A name with one of these is about something else than a measured value. */
const otherThings = new Set(
  'set setpoint target min max alarm threshold offset dew chip cpu board soil rate tare raw'.split(' '),
);
const fillers = new Set(['relative', 'value', 'level', 'status', 'sensor', 'reading', 'state', 'data']);

export const wordsOf = (name: string): readonly string[] =>
  name
    .replace(/([a-z])([A-Z0-9])/g, '$1 $2')
    .toLowerCase()
    .split(/[^a-z0-9]+/)
    .filter((word) => word !== '');

/** Undefined where the name does not clearly name one of our quantities. */
export function guessField(name: string): FieldGuess | undefined {
  const words = wordsOf(name);
  if (words.some((word) => otherThings.has(word))) return undefined;
  const found = words.filter((word) => Object.hasOwn(quantityWords, word));
  // "battery temperature" is a temperature of the wrong thing.
  const named = new Set(found.map((word) => quantityWords[word]));
  const [quantity] = named;
  if (quantity === undefined || named.size !== 1) return undefined;
  const units = unitWords[quantity];
  const unitWord = words.find((word) => Object.hasOwn(units, word));
  const rest = words.filter(
    (word) => !Object.hasOwn(quantityWords, word) && word !== unitWord && !fillers.has(word),
  );
  const unit = unitWord === undefined ? undefined : units[unitWord];
  return { quantity, probe: rest.join('-'), ...(unit === undefined ? {} : { unit }) };
}
