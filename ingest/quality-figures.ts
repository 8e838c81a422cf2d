/** What a sensor of each quantity can't truly say. Values in stored units. */
import { countsPerStored, type StoredUnit } from '../server/units.ts';

export interface QualityFigures {
  /** Beyond this the value is not of this world. */
  readonly range: readonly [number, number];
  /** Readings that mean "no reading". */
  readonly sentinels: readonly number[];
  /** Largest believable change a minute; changes within the first minute count as one minute's. */
  readonly ratePerMinute?: number;
  /** A single reading so far from the median of the last five is a spike unless the next one agrees with it. */
  readonly spikeFloor?: number;
  /** From this value up a single fall is no spike: a box that is lifted takes its weight off the scale for one reading. */
  readonly fallsTrueFrom?: number;
  /** The very same value for so long, in at least `stuckReadings` readings. */
  readonly stuckHours?: number;
}

/**
 * 127.94 °C (register 0x07FF) and 85 °C are a DS18B20's failed and not yet done conversion, −127 °C is what its usual
 * library says for "disconnected" (OneWire library 4.0.6, comments in its temperature example). The others are the ends
 * of 16-bit numbers in tenths and hundredths, absolute zero, and ±999: common practice for an open circuit.
 */
const temperatureSentinels = [
  127.9375, 127.94, -127, -273.15, 327.67, -327.68, 3276.7, -3276.8, 655.35, 6553.5, 999, -999,
];
/** 85 °C is a sentinel only as a jump: a sensor that really gets there comes from nearby. */
export const powerOnC = 85;
export const powerOnNearC = 10;
/** Ends of the 24-bit converter of most load-cell amplifiers, and of 16 bits. */
const weightSentinels = [8_388_607, -8_388_608, 65_535, 32_767, -32_768];

/** The ends of the converter among raw counts as they are stored; the smaller numbers above are counts like others. */
export const countSentinels = [8_388_607, -8_388_608].map((counts) => counts / countsPerStored);

export const stuckReadings = 60;

/** Ranges, rates and spans: common practice; wide, because a wrong flag hides a true reading. */
export const qualityFigures: Readonly<Record<StoredUnit, QualityFigures>> = {
  Cel: {
    range: [-50, 90],
    sentinels: temperatureSentinels,
    ratePerMinute: 15,
    spikeFloor: 10,
    stuckHours: 48,
  },
  // No rate: a nuc is lifted or a frame added within seconds, and that is a step to be found, not a fault.
  kg: { range: [-5, 500], sentinels: weightSentinels, spikeFloor: 5, fallsTrueFrom: -2, stuckHours: 168 },
  '%RH': { range: [0, 100], sentinels: [998, 999, -999, 655.35], ratePerMinute: 60, spikeFloor: 40 },
  '%EL': { range: [0, 100], sentinels: [255, 999, -1, -999] },
  V: { range: [0, 60], sentinels: [-1, 999, -999] },
  mm: { range: [0, 100_000], sentinels: [-1, 999_999] },
};
