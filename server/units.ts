/**
 * Quantities that sensors report, the one unit in which each is stored, and what a unit name means.
 *
 * Unit names are those of the SenML units registry (RFC 8428 §12.1) where it has one; the other
 * spellings that real sensors send are accepted and converted. Stored units: kg, Cel, %RH, %EL, V, mm.
 */

export const quantities = ['weight', 'temperature', 'humidity', 'battery', 'rain'] as const;
export type Quantity = (typeof quantities)[number];

/** Stored unit of each quantity. A battery may be told in volts instead; it then keeps `V`. */
const storedUnit: Readonly<Record<Quantity, StoredUnit>> = {
  weight: 'kg',
  temperature: 'Cel',
  humidity: '%RH',
  battery: '%EL',
  rain: 'mm',
};

export type StoredUnit = 'kg' | 'Cel' | '%RH' | '%EL' | 'V' | 'mm';

interface Conversion {
  readonly quantity: Quantity;
  readonly unit: StoredUnit;
  readonly toStored: (value: number) => number;
}

const same = (value: number): number => value;
const ratio = (value: number): number => value * 100;
/** International avoirdupois pound, exact by definition (1959 agreement): 0.45359237 kg. */
const kgPerPound = 0.45359237;

/**
 * The bare number of a load cell's converter. It is no weight before the keeper has calibrated the scale; until then it
 * is kept, in thousands, under the unit that it will have.
 */
export const rawCounts = 'counts';
export const countsPerStored = 1000;

const conversions: Readonly<Record<string, readonly Conversion[]>> = {
  kg: [{ quantity: 'weight', unit: 'kg', toStored: same }],
  g: [{ quantity: 'weight', unit: 'kg', toStored: (v) => v / 1000 }],
  lb: [{ quantity: 'weight', unit: 'kg', toStored: (v) => v * kgPerPound }],
  lbs: [{ quantity: 'weight', unit: 'kg', toStored: (v) => v * kgPerPound }],
  oz: [{ quantity: 'weight', unit: 'kg', toStored: (v) => (v * kgPerPound) / 16 }],
  [rawCounts]: [{ quantity: 'weight', unit: 'kg', toStored: (v) => v / countsPerStored }],
  Cel: [{ quantity: 'temperature', unit: 'Cel', toStored: same }],
  '°C': [{ quantity: 'temperature', unit: 'Cel', toStored: same }],
  C: [{ quantity: 'temperature', unit: 'Cel', toStored: same }],
  '°F': [{ quantity: 'temperature', unit: 'Cel', toStored: (v) => ((v - 32) * 5) / 9 }],
  F: [{ quantity: 'temperature', unit: 'Cel', toStored: (v) => ((v - 32) * 5) / 9 }],
  K: [{ quantity: 'temperature', unit: 'Cel', toStored: (v) => v - 273.15 }],
  '%RH': [{ quantity: 'humidity', unit: '%RH', toStored: same }],
  // SenML's "%" is a ratio from 0 to 1 and hardly any device means that by it; in our own topics it is per cent.
  '%': [
    { quantity: 'humidity', unit: '%RH', toStored: same },
    { quantity: 'battery', unit: '%EL', toStored: same },
  ],
  '/': [
    { quantity: 'humidity', unit: '%RH', toStored: ratio },
    { quantity: 'battery', unit: '%EL', toStored: ratio },
  ],
  '%EL': [{ quantity: 'battery', unit: '%EL', toStored: same }],
  V: [{ quantity: 'battery', unit: 'V', toStored: same }],
  mV: [{ quantity: 'battery', unit: 'V', toStored: (v) => v / 1000 }],
  mm: [{ quantity: 'rain', unit: 'mm', toStored: same }],
  'l/m2': [{ quantity: 'rain', unit: 'mm', toStored: same }],
  in: [{ quantity: 'rain', unit: 'mm', toStored: (v) => v * 25.4 }],
};

export type Converted =
  | { readonly ok: true; readonly value: number; readonly unit: StoredUnit }
  | { readonly ok: false; readonly reason: string };

/**
 * A reading of `quantity` in `unit` (its stored unit when absent), in the stored unit.
 * Fails with one sentence when the unit is unknown or belongs to another quantity, or the value is not finite.
 */
export function toStoredUnit(quantity: Quantity, value: number, unit?: string): Converted {
  if (!Number.isFinite(value))
    return { ok: false, reason: `the value ${String(value)} is not a finite number` };
  if (unit === undefined || unit === '') return { ok: true, ...bare(quantity, value) };
  const known = conversions[unit];
  if (!known || !Object.hasOwn(conversions, unit)) {
    return {
      ok: false,
      reason: `unknown unit "${unit.slice(0, 60)}"; known units are ${Object.keys(conversions).join(', ')}`,
    };
  }
  const conversion = known.find((candidate) => candidate.quantity === quantity);
  if (!conversion) return { ok: false, reason: `the unit "${unit}" does not fit the quantity ${quantity}` };
  return { ok: true, value: conversion.toStored(value), unit: conversion.unit };
}

/** A battery that tells no unit: a broken number under 5 is a cell's volts, thousands are millivolts (common practice). */
function bare(quantity: Quantity, value: number): { readonly value: number; readonly unit: StoredUnit } {
  if (quantity === 'battery' && value > 1 && value < 5 && !Number.isInteger(value))
    return { value, unit: 'V' };
  if (quantity === 'battery' && value > 1000 && value < 20_000) return { value: value / 1000, unit: 'V' };
  return { value, unit: storedUnit[quantity] };
}

/** The quantity that a unit can only belong to, where there is just one (`kg` → weight). */
export function quantityOfUnit(unit: string): Quantity | undefined {
  const known = Object.hasOwn(conversions, unit) ? conversions[unit] : undefined;
  return known?.length === 1 ? known[0]?.quantity : undefined;
}

export const isQuantity = (name: string): name is Quantity =>
  (quantities as readonly string[]).includes(name);
