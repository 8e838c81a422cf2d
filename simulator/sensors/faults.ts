/** Ways in which a sensor fails, laid over the readings that it would have given. */

export type Place = 'scale' | 'brood' | 'cage' | 'outside' | 'rain' | 'humidity' | 'battery';

type FaultKind =
  /** Nothing more comes. */
  | 'silent'
  /** The same value over and over. */
  | 'stuck'
  /** 85.00 °C, the power-on value of a common probe, now and again. */
  | 'power-on-85'
  /** −127 °C, what drivers tell when the probe is gone; all the time. */
  | 'gone-127'
  /** Drifts away, so much a day. */
  | 'drifting'
  /** The battery runs down over some days, then the whole device is silent. */
  | 'battery-low';

export interface SensorFault {
  readonly place: Place;
  readonly kind: FaultKind;
  /** Days after the split, fractions allowed. */
  readonly fromDay: number;
  /** Days after the split; for ever when absent. */
  readonly untilDay?: number;
  /** For `drifting`: change a day in the reading's own unit (kg, Cel). */
  readonly perDay?: number;
}

/** Value under a fault, or null when nothing is sent. `stuckAt` is the value when the fault began. */
export function faulty(
  fault: SensorFault,
  value: number,
  stuckAt: number,
  daysIn: number,
  roll: number,
): number | null {
  switch (fault.kind) {
    case 'silent':
      return null;
    case 'stuck':
      return stuckAt;
    case 'power-on-85':
      return roll < 0.08 ? 85 : value;
    case 'gone-127':
      return -127;
    case 'drifting':
      return value + (fault.perDay ?? (fault.place === 'scale' ? 0.15 : 1)) * daysIn;
    case 'battery-low':
      return value;
  }
}
