/** Units in which a sensor may send what it does not name, as the calibration that makes readings of them. Pure. */
import type { BodyOf } from '../../server/contract/index.ts';
import type { Channel } from '../../server/contract/sensors.ts';
import { kgPerPound } from '../format/units.ts';

export interface SentUnit {
  readonly id: string;
  readonly words: string;
  /** What is sent, and what it is in kg or °C, at two points. */
  readonly points: readonly [readonly [number, number], readonly [number, number]];
}

const weightUnits: readonly SentUnit[] = [
  {
    id: 'g',
    words: 'grams',
    points: [
      [0, 0],
      [1000, 1],
    ],
  },
  {
    id: 'lb',
    words: 'pounds',
    points: [
      [0, 0],
      [100, 100 * kgPerPound],
    ],
  },
  {
    id: 'oz',
    words: 'ounces',
    points: [
      [0, 0],
      [16, kgPerPound],
    ],
  },
];
const temperatureUnits: readonly SentUnit[] = [
  {
    id: 'F',
    words: '°F',
    points: [
      [32, 0],
      [212, 100],
    ],
  },
];

export const unitsOf = ({ quantity }: Pick<Channel, 'quantity'>): readonly SentUnit[] =>
  quantity === 'weight' ? weightUnits : quantity === 'temperature' ? temperatureUnits : [];

/** The calibration for readings from that instant on. */
export function unitCalibration({ points: [low, high] }: SentUnit, fromMs: number): BodyOf<'addCalibration'> {
  return {
    kind: 'two-point',
    from: new Date(fromMs).toISOString(),
    rawLow: low[0],
    trueLow: low[1],
    rawHigh: high[0],
    trueHigh: high[1],
  };
}
