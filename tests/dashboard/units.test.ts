import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { toStoredUnit } from '../../server/units.ts';
import {
  bytes,
  count,
  differenceFromShown,
  fromShown,
  limitIn,
  percent,
  reading,
  temperatureWithin,
  toShown,
  weightChange,
} from '../../dashboard/format/units.ts';

const metric = { temperature: 'C', weight: 'kg' } as const;
const imperial = { temperature: 'F', weight: 'lb' } as const;

describe('readings in the reader’s units', () => {
  it.each([
    { value: 34.56, unit: 'Cel', display: metric, words: '34.6 °C' },
    { value: 34.5, unit: 'Cel', display: imperial, words: '94.1 °F' },
    { value: -40, unit: 'Cel', display: imperial, words: '−40.0 °F' },
    { value: 12.437, unit: 'kg', display: metric, words: '12.44 kg' },
    { value: 0.45359237, unit: 'kg', display: imperial, words: '1.00 lb' },
    { value: -0.001, unit: 'kg', display: metric, words: '0.00 kg' },
    { value: 71, unit: '%EL', display: metric, words: '71 %' },
  ])('$value $unit is shown as $words', ({ value, unit, display, words }) => {
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
  it.each([
    { lowC: 30, highC: 33, words: '31.4 °C' },
    // Ten degrees wide: the tenths are not known.
    { lowC: 26, highC: 36, words: '31 °C' },
  ])('shows a temperature that lies within $lowC to $highC as $words', ({ words, ...interval }) => {
    expect(temperatureWithin(31.4, interval, metric)).toBe(words);
  });
  it.each([
    [0, '0 %'],
    [0.004, 'under 1 %'],
    [0.62, '62 %'],
    [0.996, 'over 99 %'],
    [1, '100 %'],
  ])('a share of %d is %s: all and none are told only of all and none', (share, words) => {
    expect(percent(share)).toBe(words);
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
    { unit: '°C', value: 30, words: '°F', figure: 86 },
    { unit: 'K', value: 0.5, words: '°F', figure: 0.9 },
    { unit: '°C·h', value: 10, words: '°F·h', figure: 18 },
    // 28.349523125 g are an ounce, exactly.
    { unit: 'g', value: 300, words: 'oz', figure: 10.58 },
    { unit: 'g/h', value: 100, words: 'oz/h', figure: 3.527 },
    { unit: 'min', value: 30, words: 'min', figure: 30 },
    { unit: '', value: 0.05, words: '', figure: 0.05 },
  ])('$unit: $value is shown in $words as $figure', ({ unit, value, words, figure }) => {
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
