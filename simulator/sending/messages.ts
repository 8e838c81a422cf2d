/** Readings as the messages that a device sends, in the order in which they arrive. */
import type { Quantity } from '../../server/units.ts';
import type { PlaceReadings } from '../sensors/delivery.ts';
import type { Place } from '../sensors/faults.ts';
import type { SimulatedNuc } from '../nuc.ts';

/** One reading on its way to the broker. */
export interface SimMessage {
  /** When it is published on the simulated clock, ms. */
  readonly atMs: number;
  readonly sensor: string;
  readonly quantity: Quantity;
  readonly probe?: string;
  /** What the device's clock says, ms. */
  readonly stampedAtMs: number;
  readonly value: number;
  readonly unit: string;
}

/** How the places of one nuc are called on the wire; a place that is left out is not sent. */
export interface WireName {
  readonly sensor: string;
  readonly probe?: string;
}
export type WireNames = { readonly [place in Place]?: WireName };

/** One device under the nuc for scale and hive probes, one at the site for the weather. */
export const wireNames = (hive: string, site: string): WireNames => ({
  scale: { sensor: hive },
  brood: { sensor: hive, probe: 'brood' },
  cage: { sensor: hive, probe: 'cage' },
  battery: { sensor: hive },
  outside: { sensor: site },
  rain: { sensor: site },
  humidity: { sensor: site },
});

/** All messages of a nuc by arrival; what arrives late comes late, duplicates come twice. */
export function messagesByArrival(nuc: SimulatedNuc, names: WireNames): SimMessage[] {
  return Object.entries(names)
    .flatMap(([place, name]) => messagesOf(nuc.readings[place as Place], name))
    .sort((a, b) => a.atMs - b.atMs);
}

/** The messages of one place, in the order in which they were taken. */
export function messagesOf(readings: PlaceReadings, name: WireName): SimMessage[] {
  const messages: SimMessage[] = [];
  for (const [i, value] of readings.value.entries()) {
    const message: SimMessage = {
      atMs: readings.arrivedAtMs[i] ?? 0,
      ...name,
      quantity: readings.quantity,
      stampedAtMs: readings.stampedAtMs[i] ?? 0,
      value,
      unit: readings.unit,
    };
    for (let copy = 0; copy < (readings.copies[i] ?? 1); copy++) messages.push(message);
  }
  return messages;
}

/**
 * A place's readings with the clock and delivery troubles undone: ascending true instants, one value each, as
 * they stand in the store once ingest has done its work. Masses in grams when `grams` is set.
 */
export function cleanSeries(
  readings: PlaceReadings,
  grams = false,
): { atMs: Float64Array; value: Float64Array } {
  const { takenAtMs, value } = readings;
  return { atMs: takenAtMs.slice(), value: grams ? value.map((kg) => kg * 1000) : value.slice() };
}
