/**
 * How one day is kept between analyses: a value for each ten-minute bin in a block of memory, NaN where a bin holds none.
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

/** To the 24 bits of a kept day. */
const rounded = (numbers: Float64Array): Float64Array => new Float64Array(new Float32Array(numbers));
const roundedSeries = ({ atMs, value }: Series): Series => ({ atMs, value: rounded(value) });

/** A day with everything laid out: quicker to read than a kept one, and several times as large. Its numbers are the same. */
export const laidOut = ({ day, weight, brood, outside, flight, steps, broodDay }: NucDay): NucDay => ({
  day,
  weight: { atMs: weight.atMs, value: rounded(weight.value), count: weight.count },
  brood: roundedSeries(brood),
  outside: roundedSeries(outside),
  flight: {
    fromMs: flight.fromMs,
    activity: rounded(flight.activity),
    light: rounded(flight.light),
    sunDeg: flight.sunDeg,
    guessed: flight.guessed,
  },
  steps,
  broodDay,
});

/** Columns of the nuc itself, and of the air around it, whose last is left out where there is no thermometer outside. */
const columns = { own: ['weight', 'brood'], air: ['activity', 'light', 'guessed', 'outside'] } as const;

const bytes = Float32Array.BYTES_PER_ELEMENT;

/** A day with its numbers to 24 bits: a milligram in ten kilograms, some millionths of a degree. */
export class KeptDay implements NucDay {
  readonly day: LocalDay;
  readonly steps: readonly WeightStep[];
  readonly broodDay: BroodDay | null;
  readonly #place: SitePlace;
  readonly #fromMs: number;
  readonly #bins: number;
  /** The nuc's own columns, then how many readings each bin of the weight holds, at two bytes. */
  readonly #own: ArrayBuffer;
  readonly #air: Float32Array;

  constructor({ day, steps, broodDay, flight, weight, brood, outside }: NucDay, place: SitePlace) {
    this.day = day;
    this.steps = steps;
    this.broodDay = broodDay;
    this.#place = place;
    this.#fromMs = flight.fromMs;
    this.#bins = flight.activity.length;
    this.#own = new ArrayBuffer((bytes * columns.own.length + Uint16Array.BYTES_PER_ELEMENT) * this.#bins);
    this.#put(this.#ownColumn('weight').fill(NaN), weight.atMs, weight.value);
    this.#put(this.#ownColumn('brood').fill(NaN), brood.atMs, brood.value);
    this.#put(this.#count, weight.atMs, weight.count);
    this.#air = new Float32Array((columns.air.length - (outside.atMs.length > 0 ? 0 : 1)) * this.#bins);
    this.#airColumn('activity').set(flight.activity);
    this.#airColumn('light').set(flight.light);
    this.#airColumn('guessed').set(flight.guessed);
    this.#put(this.#airColumn('outside').fill(NaN), outside.atMs, outside.value);
    this.#air = sharedAir(place, this.#fromMs, this.#air);
  }

  get weight(): Bins {
    const { atMs, value } = this.#series(this.#ownColumn('weight'));
    return { atMs, value, count: this.#count.filter((readings) => readings > 0) };
  }

  get brood(): Series {
    return this.#series(this.#ownColumn('brood'));
  }

  get outside(): Series {
    return this.#series(this.#airColumn('outside'));
  }

  get flight(): Flight {
    return {
      fromMs: this.#fromMs,
      activity: new Float64Array(this.#airColumn('activity')),
      light: new Float64Array(this.#airColumn('light')),
      sunDeg: sunHeights(this.#place, this.day.fromMs, this.day.toMs),
      guessed: new Uint8Array(this.#airColumn('guessed')),
    };
  }

  get #count(): Uint16Array {
    return new Uint16Array(this.#own, bytes * columns.own.length * this.#bins, this.#bins);
  }

  #ownColumn(name: (typeof columns.own)[number]): Float32Array {
    return new Float32Array(this.#own, bytes * columns.own.indexOf(name) * this.#bins, this.#bins);
  }

  #airColumn(name: (typeof columns.air)[number]): Float32Array {
    const at = columns.air.indexOf(name) * this.#bins;
    return this.#air.subarray(at, at + this.#bins);
  }

  #put(column: Float32Array | Uint16Array, atMs: Float64Array, values: Float64Array | Uint16Array): void {
    for (let i = 0; i < atMs.length; i++)
      column[Math.floor(((atMs[i] as number) - this.#fromMs) / binMs)] = values[i] as number;
  }

  #series(column: Float32Array): Series {
    const atMs = new Float64Array(column.length);
    const value = new Float64Array(column.length);
    let held = 0;
    for (let bin = 0; bin < column.length; bin++) {
      if (Number.isNaN(column[bin])) continue;
      atMs[held] = this.#fromMs + (bin + 0.5) * binMs;
      value[held++] = column[bin] as number;
    }
    return { atMs: atMs.subarray(0, held), value: value.subarray(0, held) };
  }
}

/** The air of a day as it was last kept, by place and day: most nucs of a site share their thermometer and rain gauge. */
const airs = new Map<string, Float32Array>();
/** Setting: days known. */
const mostAirs = 250;

/** The block that is known already where it holds the same numbers, so that they are kept once. */
function sharedAir({ latDeg, lonDeg }: SitePlace, fromMs: number, air: Float32Array): Float32Array {
  const key = [latDeg, lonDeg, fromMs].join(' ');
  const known = airs.get(key);
  if (known?.length === air.length && known.every((v, i) => Object.is(v, air[i]))) return known;
  if (airs.size >= mostAirs) airs.clear();
  airs.set(key, air);
  return air;
}
