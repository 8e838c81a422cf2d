/** The nuc's bees by day, as its log and its scale tell: at release, at the trough, and what that means. */
import {
  cagedBeforeOpeningHours,
  eggsAfterReleaseDays,
  firstCutDay,
  pushInCageDays,
  secondLookAfterDays,
} from '../biology/figures.ts';
import {
  framesCovered,
  projectNuc,
  type BeesCounted,
  type BroodGiven,
  type LayingTime,
  type NucProjection,
} from '../biology/nuc-population.ts';
import { comesMsOf } from './acts/days/late-queen.ts';
import { framesOfBees } from './acts/frames-of-bees.ts';
import { dayNumber } from './calendar.ts';
import { lastOf, ofKind } from './log/effective-facts.ts';
import { noneFlewHome } from './log/move-distance.ts';
import type { IntroductionMethod } from './log/facts.ts';
import type { IntroductionState } from './state.ts';

export interface NucPopulation {
  readonly projection: NucProjection;
  readonly releaseDay: number;
  /** Nobody knows when she comes: what is told of her release is told of today. */
  readonly ifToday: boolean;
  /** The bees were counted again since the split: the last time. */
  readonly counted: BeesCounted | null;
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

/** Frames of brood that stay in it. How much brood is on one is not logged: it counts as full. */
const broodGiven = (
  { facts }: IntroductionState,
  splitMs: number,
  day: (atMs: number) => number,
): readonly BroodGiven[] =>
  ofKind(facts, 'brood-frame-added')
    .filter(({ atMs, fact }) => atMs >= splitMs && !fact.asTestFrame)
    .map(({ atMs, fact: { brood } }) => ({
      day: day(atMs),
      framesOfSealedBrood: brood === 'sealed-only' ? 1 : 0,
      framesOfOpenBrood: brood === 'sealed-only' ? 0 : 1,
    }));

/** Counts of the bees since the split, those that were shaken in among them. */
const countedAgain = (
  { facts }: IntroductionState,
  splitMs: number,
  day: (atMs: number) => number,
): readonly BeesCounted[] =>
  ofKind(facts, 'inspection').flatMap(({ atMs, fact: { framesOfBees } }) =>
    framesOfBees === undefined || atMs < splitMs ? [] : [{ day: day(atMs), framesOfBees }],
  );

/** On which day she is let out, as far as it can be said, and whether that is only what would be today. */
function releaseOf(
  state: IntroductionState,
  day: (atMs: number) => number,
): { readonly day: number; readonly ifToday: boolean } {
  const { queen, setup, nowMs, outcome } = state;
  if (queen.releasedAtMs !== null) return { day: day(queen.releasedAtMs), ifToday: false };
  const usual = firstCutDay.value + secondLookAfterDays.value;
  const today = Math.min(day(Math.min(nowMs, outcome?.atMs ?? nowMs)), shownDays);
  const hangsMs = queen.inCageSinceMs ?? comesMsOf(state);
  if (hangsMs === null) {
    const late = queen.where === 'not-here' && today > usual;
    return { day: Math.max(usual, today), ifToday: late && outcome === null };
  }
  const caged =
    setup.method === 'push-in-cage' ? pushInCageDays.value : Math.ceil(cagedBeforeOpeningHours.value / 24);
  return { day: Math.max(usual, today, day(hangsMs) + caged), ifToday: false };
}

const frames = (count: number): string => `${String(count)} ${count === 1 ? 'frame' : 'frames'}`;

/** What the log tells of bees and brood since the split, and what it leaves open. */
function sinceTheSplit(state: IntroductionState, splitMs: number, day: (atMs: number) => number): string {
  const given = broodGiven(state, splitMs, day).length;
  const counted = lastOf(countedAgain(state, splitMs, day));
  const taken = ofKind(state.facts, 'brood-frame-taken').some(
    ({ atMs, fact }) => atMs >= splitMs && !fact.asTestFrame,
  );
  return [
    counted ? ` Bees counted again on day ${String(counted.day)}: ${frames(counted.framesOfBees)}.` : '',
    given === 0
      ? ''
      : ` ${frames(given)} of brood put in ${given === 1 ? 'counts' : 'count'} as full: how much brood ${given === 1 ? 'it' : 'they'} held is not logged.`,
    taken ? ' Brood that was taken out is not taken off: how much it was is not logged.' : '',
  ].join('');
}

/** Null where the frames of bees are not logged, at the split or since. `measured`: bees that flew home, where the scale can tell. */
export function nucPopulation(
  state: IntroductionState,
  measured: DriftMeasured | null,
): NucPopulation | null {
  const { split, queen, setup } = state;
  if (!split || framesOfBees(state) === undefined) return null;
  const stay = noneFlewHome(state.facts);
  const drift = stay ? { bees: 0, low: 0, high: 0 } : measured;
  const day = (atMs: number): number => dayNumber(split.atMs, atMs, setup.timeZone);
  const { day: releaseDay, ifToday } = releaseOf(state, day);
  const firstEggsDay =
    queen.firstEggsAtMs === null ? releaseDay + eggsAfterReleaseDays.value : day(queen.firstEggsAtMs);
  const lost = queen.where === 'dead' || queen.where === 'gone';
  const projection = projectNuc(
    {
      framesOfBees: split.framesOfBees,
      framesOfSealedBrood: split.framesOfSealedBrood,
      framesOfOpenBrood: split.framesOfOpenBrood,
      laidBefore: laidBefore(state, day),
      broodGiven: broodGiven(state, split.atMs, day),
      counted: countedAgain(state, split.atMs, day),
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
    `About ${framesAtRelease.toFixed(1)} frames of bees on day ${String(releaseDay)}, ${ifToday ? 'if she were let out today' : letOut[setup.method][queen.releasedAtMs === null ? 0 : 1]}; ` +
    `fewest on day ${fewest}: ${left} (${between}).`;
  return {
    projection,
    releaseDay,
    ifToday,
    counted: lastOf(countedAgain(state, split.atMs, day)) ?? null,
    framesAtRelease,
    text: `${lost ? withoutQueen : withHer} ${foragers}${sinceTheSplit(state, split.atMs, day)}`,
  };
}
