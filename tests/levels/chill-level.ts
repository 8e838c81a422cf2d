/**
 * Chilling is announced an hour before it comes, and hardly ever when it does not: by the two rules that tell the keeper
 * of it, with the limits and the holding times that they are delivered with.
 */
import { chillingAhead } from '../../server/rules/catalogue/temperature/chilling-ahead.ts';
import { chillingTonight } from '../../server/rules/catalogue/temperature/chilling-tonight.ts';
import { replay } from '../../server/rules/engine/replay.ts';
import { joinBins, type Bins } from '../../server/signals/bins.ts';
import { readDay } from '../../server/signals/day.ts';
import { daysBetween } from '../../server/signals/days.ts';
import { darkHours } from '../../server/signals/nights.ts';
import { probePlace } from '../../server/signals/brood/probe-place.ts';
import { chillOutlook, type NightSpan } from '../../server/signals/chill/outlook.ts';
import { between } from '../../server/signals/series.ts';
import { nucInput, signals, stage } from '../rules/made-up.ts';
import { dayMs, simulatedCase, type SimulatedCase } from '../signals/simulated.ts';
import { shareLevel, type Level } from './level.ts';

const hourMs = 3_600_000;
const minuteMs = 60_000;
const days = 12;
const limitC = 32;
/** Chilled this long makes a chill night; less is neither one nor a calm night. */
const chillMinutes = 30;
const lookEveryMs = 15 * minuteMs;

type NightVerdict = 'warned' | 'missed' | 'calm' | 'false';

interface ReadSeries {
  readonly brood: Bins;
  readonly outside: Bins;
  readonly days: readonly ReturnType<typeof readDay>[];
}

/** Bins of which a reading had arrived by `nowMs`. */
function known(bins: Bins, nowMs: number): Bins {
  const part = between(bins, -Infinity, nowMs - 5 * minuteMs);
  return { ...part, count: bins.count.subarray(0, part.atMs.length) };
}

/** What the nuc's own input says at one instant, as far as the two rules look at it. */
function told(
  { input }: SimulatedCase,
  series: ReadSeries,
  nights: readonly NightSpan[],
  nightAhead: NightSpan,
  nowMs: number,
) {
  const brood = known(series.brood, nowMs);
  const regime = input.broodRegime(nowMs);
  const place = probePlace({
    ...{ brood, outside: known(series.outside, nowMs), nowMs },
    ...{ events: input.events.filter((event) => event.atMs <= nowMs) },
  });
  const outlook = chillOutlook({
    ...(place.readSinceMs === null ? {} : { readSinceMs: place.readSinceMs }),
    nowMs,
    brood,
    outside: known(series.outside, nowMs),
    nights,
    nightAhead,
    bees: (input.framesOfBees ?? 3) * 1900 * 0.75,
    events: input.events.filter((event) => event.atMs <= nowMs),
  });
  const latest = { latestC: brood.value.at(-1) ?? null, latestAtMs: brood.atMs.at(-1) ?? null };
  const uneventful = signals({}, regime);
  const broodDays = series.days.flatMap(({ day, broodDay }) =>
    broodDay && day.toMs <= nowMs ? [broodDay] : [],
  );
  return nucInput({
    nowMs,
    introduction: stage(),
    signals: {
      ...uneventful,
      probePlace: place,
      broodDays,
      outlook,
      brood: { ...uneventful.brood, ...latest },
    },
  });
}

/** Whether either rule is raised, held for as long as it has to be, within the span. */
const warnedBetween = (
  simulated: SimulatedCase,
  series: ReadSeries,
  nights: readonly NightSpan[],
  nightAhead: NightSpan,
  fromMs: number,
  untilMs: number,
): boolean =>
  replay({
    fromMs,
    toMs: untilMs,
    stepMs: lookEveryMs,
    rules: [chillingAhead, chillingTonight],
    inputsAt: (nowMs) => [told(simulated, series, nights, nightAhead, nowMs)],
  }).raisings.length > 0;

/** Verdicts on the nights of one nuc that begin warm and undisturbed. No forecast is given: persistence has to do. */
export function chillVerdicts(
  seed: number,
  setting: 'usual' | 'unseen',
  scenario: 'cold-snap' | 'clean',
): NightVerdict[] {
  const simulated = simulatedCase({ seed, setting, days, scenario });
  const { nuc, input } = simulated;
  const { truth } = nuc;
  const read = daysBetween(nuc.place.timeZone, nuc.splitMs, nuc.splitMs + days * dayMs - 1).map((day) =>
    readDay(day, input, input.series),
  );
  const series = {
    brood: joinBins(read.map((d) => d.brood)),
    outside: joinBins(read.map((d) => d.outside)),
    days: read,
  };
  const spans = read.slice(1).map((d, i) => darkHours(nuc.place, d.day.date, read[i]!.day.date));
  const coldest = (fromMs: number, toMs: number): { minutes: number; firstMs: number | null } => {
    const part = truth.broodC.subarray(
      Math.floor((fromMs - truth.startMs) / minuteMs),
      Math.floor((toMs - truth.startMs) / minuteMs),
    );
    const first = part.findIndex((v) => v < limitC);
    return {
      minutes: part.filter((v) => v < limitC).length,
      firstMs: first < 0 ? null : fromMs + first * minuteMs,
    };
  };
  return spans.flatMap((span, k): NightVerdict[] => {
    const fromMs = span.fromMs - 5 * hourMs;
    const toMs = span.toMs + 2 * hourMs;
    if (fromMs < nuc.splitMs + dayMs || toMs > truth.startMs + truth.minutes * minuteMs) return [];
    const visited = truth.events.some(
      (e) => e.kind === 'opened' && e.atMs > fromMs - 6 * hourMs && e.atMs < toMs,
    );
    if (visited || coldest(fromMs - 6 * hourMs, fromMs).minutes > 0) return [];
    const cold = coldest(fromMs, toMs);
    const past = spans.slice(0, k);
    if (cold.firstMs === null)
      return [warnedBetween(simulated, series, past, span, fromMs, span.toMs) ? 'false' : 'calm'];
    if (cold.minutes < chillMinutes) return [];
    const lastMs = cold.firstMs - hourMs;
    return [
      warnedBetween(simulated, series, past, span, Math.min(fromMs, lastMs - 6 * hourMs), lastMs)
        ? 'warned'
        : 'missed',
    ];
  });
}

export function chillLevels(seeds: readonly number[], setting: 'usual' | 'unseen'): Level[] {
  const weak = seeds.flatMap((seed) => chillVerdicts(seed, setting, 'cold-snap'));
  const ordinary = seeds.flatMap((seed) => chillVerdicts(seed, setting, 'clean'));
  const all = [...weak, ...ordinary];
  const count = (verdict: NightVerdict, of: readonly NightVerdict[]): number =>
    of.filter((v) => v === verdict).length;
  const chilled = count('warned', all) + count('missed', all);
  const calm = (of: readonly NightVerdict[]): number => count('calm', of) + count('false', of);
  return [
    shareLevel('chill nights announced 60 min or more ahead', count('warned', all), chilled, { atLeast: 95 }),
    shareLevel('false in calm nights, ordinary nucs', count('false', ordinary), calm(ordinary), {
      atMost: 1,
    }),
    // No goal: these nests sink to a degree or two above the limit, and a keeper would want to know.
    shareLevel('the same, weak nucs in a cold spell', count('false', weak), calm(weak), {}),
  ];
}
