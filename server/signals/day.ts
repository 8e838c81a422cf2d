/** One local day of a nuc's readings, cleaned and read as far as it can be read by itself. */
import { highEnd, lowEnd } from '../biology/figure.ts';
import { nestTemperatureRangeC, temperatureSpikeK, weightSpikeG } from '../biology/scale-figures.ts';
import { binsOfDay, type Bins } from './bins.ts';
import { broodDay } from './brood/brood-day.ts';
import { hampel, withinRange } from './clean.ts';
import type { LocalDay } from './days.ts';
import { flightBetween } from './drift/flight.ts';
import type { AnalysisInput } from './input.ts';
import { KeptDay, laidOut, type NucDay } from './kept-day.ts';
import { between, hourMs, pick } from './series.ts';
import { weightSteps } from './weight/weight-steps.ts';
import type { Series } from './types.ts';

/** Method: steps near midnight are seen from both sides. */
export const marginMs = 4 * hourMs;

/** Method: readings on a side, and robust standard deviations from their median. */
const weightSpikes = { halfWindow: 7, cut: 4, floor: weightSpikeG.value };
/** Method: the same of temperatures. */
const temperatureSpikes = { halfWindow: 3, cut: 6, floor: temperatureSpikeK.value };
const nestRangeC = [lowEnd(nestTemperatureRangeC), highEnd(nestTemperatureRangeC)] as const;

/** A temperature without impossible values, what a probe sends that has measured nothing (85 °C) among them, and spikes. */
export function cleanTemperature(series: Series): Series {
  const possible = withinRange(series, ...nestRangeC);
  const spikes = hampel(possible, temperatureSpikes);
  return spikes.includes(1) ? pick(possible, (i) => !spikes[i]) : possible;
}

/** The bins of one day of a temperature, cleaned with what lies around it. */
export const temperatureBins = (day: LocalDay, series: Series | undefined): Bins =>
  binsOfDay(cleanTemperature(between(series, day.fromMs - marginMs, day.toMs + marginMs)), day);

export function cleanWeight(series: Series): Series {
  const spikes = hampel(series, weightSpikes);
  return spikes.includes(1) ? pick(series, (i) => !spikes[i]) : series;
}

/** As it is kept in little memory. */
export const readDay = (day: LocalDay, input: AnalysisInput): NucDay =>
  new KeptDay(readAsItIs(day, input), input.place);

/** The same, for many looks at one nuc. */
export const readDayLaidOut = (day: LocalDay, input: AnalysisInput): NucDay =>
  laidOut(readAsItIs(day, input));

function readAsItIs(day: LocalDay, input: AnalysisInput): NucDay {
  const sums = input.series;
  const { fromMs, toMs } = day;
  const around = (series: Series | undefined): Series => between(series, fromMs - marginMs, toMs + marginMs);
  const rain = sums.rainMm && around(sums.rainMm);
  const events = input.events.filter((e) => e.atMs > fromMs - marginMs && e.atMs < toMs + marginMs);
  const brood = temperatureBins(day, sums.broodC);
  const outside = temperatureBins(day, sums.outsideC);
  return {
    day,
    weight: binsOfDay(cleanWeight(around(sums.weightG)), day),
    brood,
    outside,
    flight: flightBetween(input.place, fromMs, toMs, outside, rain),
    steps: weightSteps(around(sums.weightG), fromMs, toMs, { events, ...(rain ? { rain } : {}) }),
    broodDay: broodDay(day, brood),
  };
}
