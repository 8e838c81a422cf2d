/** The nuc's bees by day, as its log and its scale tell: at release, at the trough, and what that means. */
import { eggsAfterReleaseDays, firstCutDay, secondLookAfterDays } from '../biology/figures.ts';
import { framesCovered, projectNuc, type LayingTime, type NucProjection } from '../biology/nuc-population.ts';
import { dayNumber } from './calendar.ts';
import { noneFlewHome } from './log/move-distance.ts';
import type { IntroductionMethod } from './log/facts.ts';
import type { IntroductionState } from './state.ts';

export interface NucPopulation {
  readonly projection: NucProjection;
  readonly releaseDay: number;
  readonly framesAtRelease: number;
  readonly text: string;
}

/** How she gets out, as it is told beforehand and afterwards. */
const letOut = {
  'candy-cage': ['when the candy end is to be opened', 'when the candy end was opened'],
  'push-in-cage': ['when the mesh is to be lifted', 'when the mesh was lifted'],
} as const satisfies Record<IntroductionMethod, readonly [string, string]>;

/** No projection is true to the single bee. */
const hundreds = (bees: number): string => (Math.round(bees / 100) * 100).toLocaleString('en-GB');

export interface DriftMeasured {
  readonly bees: number;
  readonly low: number;
  readonly high: number;
}

/** Setting: as far as a nuc is looked ahead, and until she is let out where that is later. */
const shownDays = 60;

/** Queens that were brought, laid or may have, and are gone. */
const laidBefore = (
  { queen, evidence }: IntroductionState,
  day: (atMs: number) => number,
): readonly LayingTime[] =>
  queen.couldLay.flatMap(({ fromMs, freeFromMs = fromMs, untilMs }) =>
    untilMs !== null && evidence.laterLosses.includes(untilMs)
      ? [{ firstEggsDay: day(freeFromMs) + eggsAfterReleaseDays.value, lastEggsDay: day(untilMs) }]
      : [],
  );

/** Null where the split's frames of bees are not logged. `measured`: bees that flew home, where the scale can tell. */
export function nucPopulation(
  state: IntroductionState,
  measured: DriftMeasured | null,
): NucPopulation | null {
  const { split, queen, setup } = state;
  if (!split) return null;
  const stay = noneFlewHome(state.facts);
  const drift = stay ? { bees: 0, low: 0, high: 0 } : measured;
  const day = (atMs: number): number => dayNumber(split.atMs, atMs, setup.timeZone);
  const releaseDay =
    queen.releasedAtMs === null ? firstCutDay.value + secondLookAfterDays.value : day(queen.releasedAtMs);
  const firstEggsDay =
    queen.firstEggsAtMs === null ? releaseDay + eggsAfterReleaseDays.value : day(queen.firstEggsAtMs);
  const lost = queen.where === 'dead' || queen.where === 'gone';
  const projection = projectNuc(
    {
      framesOfBees: split.framesOfBees,
      framesOfSealedBrood: split.framesOfSealedBrood,
      framesOfOpenBrood: split.framesOfOpenBrood,
      laidBefore: laidBefore(state, day),
      ...(lost ? {} : { firstEggsDay }),
      ...(drift ? { foragersGone: drift } : {}),
    },
    Math.max(shownDays, releaseDay),
  );
  const framesAtRelease = framesCovered(projection.days[releaseDay]?.bees ?? 0);
  const { trough } = projection;
  const left = hundreds(trough.bees);
  const between = `${hundreds(trough.low)} to ${hundreds(trough.high)}`;
  const foragers = stay
    ? 'Its foragers stay: it was moved too far for them to fly home.'
    : `Foragers lost ${drift ? 'as the scale measured' : 'by the usual share, no scale tells'}.`;
  const fewest = String(trough.day);
  const withoutQueen = `No queen lays in it: ${left} bees (${between}) are left on day ${fewest}.`;
  const withHer =
    `About ${framesAtRelease.toFixed(1)} frames of bees on day ${String(releaseDay)}, ${letOut[setup.method][queen.releasedAtMs === null ? 0 : 1]}; ` +
    `fewest on day ${fewest}: ${left} (${between}).`;
  return {
    projection,
    releaseDay,
    framesAtRelease,
    text: `${lost ? withoutQueen : withHer} ${foragers}`,
  };
}
