/** Readings as the messages that a device sends, in the order in which they arrive. */
import type { PlaceReadings } from './delivery.ts';
import type { Place } from './faults.ts';
import type { SimulatedNuc } from './nuc.ts';

/** One reading on its way to the broker. */
export interface SimMessage {
  /** When it is published on the simulated clock, ms. */
  readonly atMs: number;
  readonly sensor: string;
  readonly quantity: PlaceReadings['quantity'];
  readonly probe?: string;
  /** What the device's clock says, ms. */
  readonly stampedAtMs: number;
  readonly value: number;
  readonly unit: PlaceReadings['unit'];
}

/** How the places of one nuc are called on the wire; a place that is left out is not sent. */
export type WireNames = { readonly [place in Place]?: { readonly sensor: string; readonly probe?: string } };

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
  const all: SimMessage[] = [];
  for (const [place, name] of Object.entries(names)) {
    const readings = nuc.readings[place as Place];
    for (let i = 0; i < readings.value.length; i++) {
      const message: SimMessage = {
        atMs: readings.arrivedAtMs[i] ?? 0,
        sensor: name.sensor,
        quantity: readings.quantity,
        ...(name.probe ? { probe: name.probe } : {}),
        stampedAtMs: readings.stampedAtMs[i] ?? 0,
        value: readings.value[i] ?? 0,
        unit: readings.unit,
      };
      for (let copy = 0; copy < (readings.copies[i] ?? 1); copy++) all.push(message);
    }
  }
  return all.sort((a, b) => a.atMs - b.atMs);
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
