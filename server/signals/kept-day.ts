/**
 * How one day is kept between analyses: a value for each ten-minute bin in one block of memory, NaN where a bin holds none.
 * What is read from it is laid out anew at each access, so that nothing else stays.
 */
import { binMs, type Bins } from './bins.ts';
import type { LocalDay } from './days.ts';
import { sunHeights, type Flight } from './drift/flight.ts';
import type { BroodDay, Series, SitePlace, WeightStep } from './types.ts';

export interface NucDay {
  readonly day: LocalDay;
  readonly weight: Bins;
  /** Medians of ten-minute bins, as those of the weight. */
  readonly brood: Series;
  readonly outside: Series;
  readonly flight: Flight;
  readonly steps: readonly WeightStep[];
  readonly broodDay: BroodDay | null;
}

/** A day with everything laid out: quicker to read than a kept one, and several times as large. */
export const laidOut = (of: NucDay): NucDay => {
  const { day, weight, brood, outside, flight, steps, broodDay } = of;
  return { day, weight, brood, outside, flight, steps, broodDay };
};

/** The last is left out where there is no thermometer outside. */
const columns = ['weight', 'count', 'brood', 'activity', 'light', 'guessed', 'outside'] as const;
type Column = (typeof columns)[number];

/** A day with its numbers to 24 bits: a milligram in ten kilograms, some millionths of a degree. */
export class KeptDay implements NucDay {
  readonly day: LocalDay;
  readonly steps: readonly WeightStep[];
  readonly broodDay: BroodDay | null;
  readonly #place: SitePlace;
  readonly #fromMs: number;
  readonly #bins: number;
  readonly #block: Float32Array;

  constructor({ day, steps, broodDay, flight, weight, brood, outside }: NucDay, place: SitePlace) {
    this.day = day;
    this.steps = steps;
    this.broodDay = broodDay;
    this.#place = place;
    this.#fromMs = flight.fromMs;
    this.#bins = flight.activity.length;
    this.#block = new Float32Array((columns.length - (outside.atMs.length > 0 ? 0 : 1)) * this.#bins);
    this.#put('weight', weight.atMs, weight.value, NaN);
    this.#put('count', weight.atMs, weight.count, 0);
    this.#put('brood', brood.atMs, brood.value, NaN);
    this.#put('outside', outside.atMs, outside.value, NaN);
    this.#column('activity').set(flight.activity);
    this.#column('light').set(flight.light);
    this.#column('guessed').set(flight.guessed);
  }

  get weight(): Bins {
    const read = this.#series('weight');
    const count = this.#column('count').filter((readings) => readings > 0);
    return { ...read, count: Uint16Array.from(count) };
  }

  get brood(): Series {
    return this.#series('brood');
  }

  get outside(): Series {
    return this.#series('outside');
  }

  get flight(): Flight {
    return {
      fromMs: this.#fromMs,
      activity: Float64Array.from(this.#column('activity')),
      light: Float64Array.from(this.#column('light')),
      sunDeg: sunHeights(this.#place, this.day.fromMs, this.day.toMs),
      guessed: Uint8Array.from(this.#column('guessed')),
    };
  }

  #column(name: Column): Float32Array {
    const at = columns.indexOf(name) * this.#bins;
    return this.#block.subarray(at, at + this.#bins);
  }

  #put(name: Column, atMs: Float64Array, values: Float64Array | Uint16Array, none: number): void {
    const column = this.#column(name).fill(none);
    for (let i = 0; i < atMs.length; i++)
      column[Math.floor(((atMs[i] as number) - this.#fromMs) / binMs)] = values[i] as number;
  }

  #series(name: Column): Series {
    const column = this.#column(name);
    const value = Float64Array.from(column.filter((one) => !Number.isNaN(one)));
    const atMs = new Float64Array(value.length);
    let next = 0;
    for (let bin = 0; bin < column.length; bin++)
      if (!Number.isNaN(column[bin])) atMs[next++] = this.#fromMs + (bin + 0.5) * binMs;
    return { atMs, value };
  }
}
