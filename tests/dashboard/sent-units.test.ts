/** Units that a sensor may send, and where the probes of a node stand by their names. */
import { describe, expect, it } from 'vitest';
import type { Channel } from '../../server/contract/sensors.ts';
import { unitCalibration, unitsOf } from '../../dashboard/sensors/sent-units.ts';
import { placesOfNode } from '../../dashboard/sensors/places.ts';
import { localeStyle } from '../../dashboard/format/date-style.ts';

/** What the calibration makes of a value. */
const read = (quantity: Channel['quantity'], id: string, sent: number): number => {
  const unit = unitsOf({ quantity }).find((one) => one.id === id)!;
  const made = unitCalibration(unit, 0);
  if (made.kind !== 'two-point') throw new Error('another kind');
  const { rawLow, trueLow, rawHigh, trueHigh } = made;
  return trueLow + ((sent - rawLow) * (trueHigh - trueLow)) / (rawHigh - rawLow);
};

describe('a unit that is sent', () => {
  // NIST Special Publication 811, appendix B.8: 1 lb = 0.45359237 kg, 1 oz = 0.028349523125 kg; °C = (°F − 32) / 1.8.
  it.each([
    { quantity: 'weight', unit: 'g', sent: 12_437, expected: 12.437 },
    { quantity: 'weight', unit: 'lb', sent: 20, expected: 9.0718474 },
    { quantity: 'weight', unit: 'oz', sent: 100, expected: 2.8349523125 },
    { quantity: 'temperature', unit: 'F', sent: 93.2, expected: 34 },
    { quantity: 'temperature', unit: 'F', sent: -40, expected: -40 },
  ] as const)('$quantity in $unit: $sent is $expected', ({ quantity, unit, sent, expected }) => {
    expect(read(quantity, unit, sent)).toBeCloseTo(expected, 9);
  });
  it('is no question for a battery', () => {
    expect(unitsOf({ quantity: 'battery' })).toEqual([]);
  });
});

describe('the channels of a node', () => {
  const channel = (id: number, quantity: Channel['quantity'], probe = ''): Channel =>
    ({ id, quantity, probe }) as Channel;
  it('stand where their names say', () => {
    const node = [
      channel(1, 'weight'),
      channel(2, 'temperature', 'queen-cage'),
      channel(3, 'temperature', 'nest'),
      channel(4, 'temperature', 'outside'),
      channel(5, 'battery'),
    ];
    expect([...placesOfNode(node)]).toEqual([
      [1, 'scale'],
      [2, 'cage'],
      [3, 'brood'],
      [4, 'outside'],
      [5, 'battery'],
    ]);
  });
  it('stand at the next free place without a name, and nowhere when all are taken', () => {
    const four = [1, 2, 3, 4].map((id) => channel(id, 'temperature'));
    expect([...placesOfNode(four).values()]).toEqual(['brood', 'cage', 'outside']);
  });
});

it('days and times are written as people there do', () => {
  // Unicode CLDR: English in the United States puts the month first and counts to twelve; German neither.
  expect(localeStyle('en-US')).toEqual({ hours: 12, dateOrder: 'month-day' });
  expect(localeStyle('de-DE')).toEqual({ hours: 24, dateOrder: 'day-month' });
});
