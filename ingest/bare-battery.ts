/**
 * A battery that names no unit sends 4.00 V as `4`, which read by itself is four per cent. After volts, and where no other
 * per cent was ever heard of it, it is volts.
 */
import type { IncomingReading } from '../server/store/port.ts';

const mostBatteries = 20_000;

export function batteryUnits(): (reading: IncomingReading) => IncomingReading {
  const toldBy = new Map<string, 'V' | '%EL'>();

  return (reading) => {
    if (reading.quantity !== 'battery') return reading;
    const { sensor, probe, unit, value } = reading;
    const key = JSON.stringify([sensor, probe]);
    const told = toldBy.get(key);
    // Of one cell: 2, 3 or 4.
    const mayBeVolts = Number.isInteger(value) && value > 1 && value < 5;
    if (unit === '%EL' && mayBeVolts) return told === 'V' ? { ...reading, unit: 'V' } : reading;
    if (told === '%EL') return reading;
    if (toldBy.size >= mostBatteries) toldBy.clear();
    toldBy.set(key, unit === 'V' ? 'V' : '%EL');
    return reading;
  };
}
