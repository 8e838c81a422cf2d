import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { toStoredUnit } from '../../server/units.ts';
import {
  bytes,
  count,
  differenceFromShown,
  fromShown,
  limitIn,
  reading,
  toShown,
  weightChange,
} from '../../dashboard/format/units.ts';

const metric = { temperature: 'C', weight: 'kg' } as const;
const imperial = { temperature: 'F', weight: 'lb' } as const;

describe('readings in the reader’s units', () => {
  it.each([
    [34.56, 'Cel', metric, '34.6 °C'],
    [34.5, 'Cel', imperial, '94.1 °F'],
    [-40, 'Cel', imperial, '−40.0 °F'],
    [12.437, 'kg', metric, '12.44 kg'],
    [0.45359237, 'kg', imperial, '1.00 lb'],
    [-0.001, 'kg', metric, '0.00 kg'],
    [71, '%EL', metric, '71 %'],
  ])('%f %s is shown as %s', (value, unit, display, words) => {
    expect(reading(value, unit, display)).toBe(words);
  });
  it('agrees with the units that the server takes in', () => {
    fc.assert(
      fc.property(fc.double({ min: -60, max: 90, noNaN: true }), (shown) => {
        const fahrenheit = toStoredUnit('temperature', shown, '°F');
        const pounds = toStoredUnit('weight', shown, 'lb');
        // Both sides are a few floating-point operations apart.
        expect(fromShown(shown, 'Cel', imperial)).toBeCloseTo(fahrenheit.ok ? fahrenheit.value : NaN, 9);
        expect(fromShown(shown, 'kg', imperial)).toBeCloseTo(pounds.ok ? pounds.value : NaN, 9);
      }),
    );
  });
  it('goes there and back', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -60, max: 300, noNaN: true }),
        fc.constantFrom('Cel', 'kg', 'V'),
        (value, unit) => {
          expect(fromShown(toShown(value, unit, imperial), unit, imperial)).toBeCloseTo(value, 9);
        },
      ),
    );
  });
  it('takes a difference without the zero of its scale', () => {
    expect(differenceFromShown(1.8, 'Cel', imperial)).toBeCloseTo(1, 12);
    expect(differenceFromShown(0, 'Cel', imperial)).toBeCloseTo(0, 12);
  });
  it('signs a change of weight', () => {
    expect(weightChange(-0.52, metric)).toBe('−0.52 kg');
    expect(weightChange(0.2, metric)).toBe('+0.20 kg');
  });
  it('counts and sizes', () => {
    expect(count(1, 'nuc')).toBe('1 nuc');
    expect(count(1200, 'entry', 'entries')).toBe('1,200 entries');
    expect(bytes(999)).toBe('999 B');
    expect(bytes(48_000_000)).toBe('48.0 MB');
  });
});

describe('limits in the reader’s units', () => {
  it.each([
    ['°C', 30, '°F', 86],
    ['K', 0.5, '°F', 0.9],
    ['°C·h', 10, '°F·h', 18],
    // 28.349523125 g are an ounce, exactly.
    ['g', 300, 'oz', 10.58],
    ['g/h', 100, 'oz/h', 3.527],
    ['min', 30, 'min', 30],
    ['', 0.05, '', 0.05],
  ])('%s: %f is shown in %s as %f', (unit, value, words, figure) => {
    const shown = limitIn(unit, imperial);
    expect([shown.unit, shown.of(value)]).toEqual([words, figure]);
    expect(limitIn(unit, metric).of(value)).toBe(value);
    expect(limitIn(unit, metric).unit).toBe(unit.replace('K', '°C'));
  });
  it('are stored as the rules keep them, and a bound that was typed as it is shown is the bound', () => {
    const bounds = { min: 50, max: 2000 };
    const ounces = limitIn('g', imperial);
    expect(ounces.of(50)).toBe(1.764);
    expect(ounces.back(1.764, bounds)).toBe(50);
    expect(ounces.back(10, bounds)).toBeCloseTo(283.495, 3);
    expect(limitIn('°C', imperial).back(86, { min: 20, max: 34 })).toBeCloseTo(30, 9);
    expect(limitIn('K', imperial).back(0.9, { min: 0, max: 3 })).toBeCloseTo(0.5, 9);
    expect(limitIn('°C', metric).back(31.25, { min: 20, max: 34 })).toBe(31.25);
  });
});
