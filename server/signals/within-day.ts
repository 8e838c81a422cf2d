/**
 * One day on the scale: departure of the morning, minimum, evening return. After the daily curve of
 * Meikle et al. 2018 (PLoS ONE 13:e0197589) and Holst and Meikle 2018 (Insects 9:176): the night's line is
 * carried on, and what lies under it has flown out.
 */
import { departureG } from '../biology/scale-figures.ts';
import type { Bins } from './bins.ts';
import { covered } from './weight/night-weight.ts';
import { between, hourMs } from './series.ts';
import type { SunDay } from './sun.ts';
import type { NightWeight, WithinDay } from './types.ts';

/** Method: hours from noon where the sun does not set. */
const halfDayHours = 8;
/** Method: hours for which a night’s slope holds. */
const slopeHours = 3;
/** Method: errors of its line that a departure exceeds. */
const lineErrors = 3;

/** Running median over three bins, half an hour. */
function smooth(values: Float64Array): Float64Array {
  return values.map((v, i) => {
    const before = values[i - 1];
    const after = values[i + 1];
    if (before !== undefined && after !== undefined)
      return Math.max(Math.min(before, v), Math.min(Math.max(before, v), after));
    return (v + (before ?? after ?? v)) / 2;
  });
}

export function withinDay(date: string, sun: SunDay, night: NightWeight | null, weight: Bins): WithinDay {
  const dawnMs = sun.dawnMs ?? sun.noonMs - halfDayHours * hourMs;
  const duskMs = sun.duskMs ?? sun.noonMs + halfDayHours * hourMs;
  const light = between(weight, dawnMs, duskMs + hourMs + 1);
  const { atMs: at, value: raw } = light;
  const coverage = Math.min(1, covered(light).ms / (duskMs + hourMs - dawnMs));
  const nothing = {
    date,
    departureAtMs: null,
    minimumAtMs: null,
    depthG: null,
    eveningAtMs: null,
    netG: null,
    coverage,
  };
  if (!night || coverage < 0.5) return nothing;
  const level = smooth(raw);
  // The slope of the night holds for the first hours at most; the level stays.
  const expected = (t: number): number =>
    night.levelG + night.slopeGPerH * Math.min(slopeHours, (t - night.toMs) / hourMs);
  const limit = Math.max(departureG.value, lineErrors * night.residualG);
  const leaves = (i: number): boolean => (level[i] as number) < expected(at[i] as number) - limit;
  const departure = at.findIndex((_, i) => leaves(i) && (i + 1 >= at.length || leaves(i + 1)));
  const minimum = indexOfLeast(level);
  const evening = indexOfMost(level, minimum);
  const minimumAt = at[minimum] as number;
  return {
    date,
    departureAtMs: departure >= 0 ? (at[departure] as number) : null,
    minimumAtMs: departure >= 0 ? minimumAt : null,
    depthG: night.levelG - (level[minimum] as number),
    eveningAtMs: departure >= 0 ? (at[evening] as number) : null,
    netG: (at.at(-1) as number) >= duskMs - hourMs ? (level[evening] as number) - night.levelG : null,
    coverage,
  };
}

function indexOfLeast(values: Float64Array): number {
  let best = 0;
  for (let i = 1; i < values.length; i++) if ((values[i] as number) < (values[best] as number)) best = i;
  return best;
}

function indexOfMost(values: Float64Array, from: number): number {
  let best = from;
  for (let i = from; i < values.length; i++) if ((values[i] as number) > (values[best] as number)) best = i;
  return best;
}
