/** After release: does the nest steady as it does when a queen lays? And has a steady nest ceased to be one? */
import {
  failedColdK,
  failedDays,
  failedInBandShare,
  failedSwingK,
  failedSwingTimes,
  heldDays,
  heldInBandShare,
  heldSpreadK,
  probeAtEdgeK,
  probeMovedWithinDays,
  steadyDays,
  steadyNotBeforeDays,
  steadySpreadK,
  usualSpreadK,
} from '../../biology/nest-figures.ts';
import { degC, kelvin, say, type Sentence } from '../../words/phrase.ts';
import { counted } from '../../words/sentence.ts';
import { highEnd, lowEnd } from '../../biology/figure.ts';
import { broodNestC } from '../../biology/thermal-figures.ts';
import { daysFrom } from '../days.ts';
import type { BroodDay, BroodRegime, ColonyFailing, ProbeJump, Regulation } from '../types.ts';

/** A steady day: median in the brood band (a probe may sit at its edge), spread small. */
const steadySpreadC = steadySpreadK.value;
const steadyFromC = lowEnd(broodNestC) - probeAtEdgeK.value;
const steadyToC = highEnd(broodNestC) + probeAtEdgeK.value;
const leastDays = steadyDays.value;
const earliestDays = steadyNotBeforeDays.value;

const isSteady = (day: BroodDay): boolean =>
  day.spreadC <= steadySpreadC && day.medianC >= steadyFromC && day.medianC <= steadyToC;

/** What is known of where the probe lies. */
interface ProbeKnown {
  /** Why cold readings are the probe's and not the nest's, where they are. */
  readonly notNest?: Sentence | null;
  /** A visit of that date put it back among the brood. */
  readonly putBackOn?: string | null;
}

const putBack = 'a visit put the probe back: its readings before that are of another place';

/**
 * Judged only on days on which the old brood can no longer keep the nest steady: while any of it is left, a steady
 * nest says nothing about the queen.
 */
export function regulation(
  days: readonly BroodDay[],
  releasedOn: string | null,
  today: string,
  regimeOn: (date: string) => BroodRegime,
  { notNest = null, putBackOn = null }: ProbeKnown = {},
): Regulation {
  const nothing = { days: [], steadySince: null };
  if (releasedOn === null || releasedOn > today) {
    return { state: 'cannot-tell', why: 'the candy end is not open yet', daysSinceRelease: null, ...nothing };
  }
  const daysSinceRelease = daysFrom(releasedOn, today);
  const read = days.filter((day) => day.date > releasedOn && day.date < today);
  const since = read.filter((day) => putBackOn === null || day.date > putBackOn);
  const telling = since.filter((day) => {
    const regime = regimeOn(day.date);
    return daysFrom(releasedOn, day.date) >= 2 && (regime === 'new-brood-expected' || regime === 'broodless');
  });
  const result = { daysSinceRelease, days: telling, steadySince: steadyRun(telling) };
  if (daysSinceRelease < earliestDays) {
    return {
      state: 'too-early',
      why: `released ${counted(daysSinceRelease, 'day')} ago: no brood of hers could steady the nest yet`,
      ...result,
    };
  }
  if (notNest !== null) return { state: 'cannot-tell', why: notNest, ...result };
  const newest = since.at(-1);
  if (newest && daysFrom(newest.date, today) > 2)
    return { state: 'cannot-tell', why: 'no brood temperature in the last days', ...result };
  if (read.length === 0)
    return { state: 'cannot-tell', why: 'no brood temperature since the release', ...result };
  if (since.length === 0) return { state: 'cannot-tell', why: putBack, ...result };
  if (telling.length < leastDays) {
    return {
      state: 'too-early',
      why: 'the old brood, while any is left, keeps the nest steady by itself',
      ...result,
    };
  }
  const recent = telling.slice(-leastDays);
  const steady = recent.filter(isSteady).length;
  const words = say`${String(steady)} of the last ${String(recent.length)} days steady at ${degC(steadyFromC)} to ${degC(steadyToC)}`;
  if (steady === recent.length)
    return { state: 'agreeing', why: say`${words}, as with a laying queen`, ...result };
  if (steady > 0 || telling.length < earliestDays) return { state: 'too-early', why: words, ...result };
  return { state: 'not-agreeing', why: say`${words}: no sign of new brood`, ...result };
}

/** First day of the run of steady days that reaches to the newest; null when the newest is not steady. */
function steadyRun(days: readonly BroodDay[]): string | null {
  let since: string | null = null;
  for (let i = days.length - 1; i >= 0; i--) {
    const day = days[i] as BroodDay;
    if (!isSteady(day)) break;
    since = day.date;
  }
  return since;
}

/** Days without regulation that make a failing, and regulated days before them that it needs. */
const failingDays = failedDays.value;
const regulatedDays = heldDays.value;
/** Method: days before it that are looked at. */
const baselineDays = 7;
/** Method: share of a day that must be read. */
const leastCoverage = 0.4;

interface Usual {
  readonly medianC: number;
  readonly spreadC: number;
}

/** Lost its regulation: swings several times as wide as usual and down into the cold, or far under its level for most of the day. */
function lost(day: BroodDay, usual: Usual): boolean {
  const coldC = usual.medianC - failedColdK.value;
  const wideK = Math.max(failedSwingK.value, failedSwingTimes.value * usual.spreadC);
  const swings = day.spreadC > wideK && day.minC < coldC;
  const sunk = day.shareInBand < failedInBandShare.value && day.medianC < coldC;
  return swings || sunk;
}

/** A day that ends a failing: in band for most of it, and steady. A single hot day lifts the median and swings on. */
const isRegulated = (day: BroodDay): boolean =>
  day.shareInBand >= heldInBandShare.value && day.spreadC < heldSpreadK.value;

/** Mean of the regulated days before a day; null with too few of them. */
function usualBefore(full: readonly BroodDay[], index: number): Usual | null {
  const before = full.slice(Math.max(0, index - baselineDays), index).filter(isRegulated);
  if (before.length < regulatedDays) return null;
  const mean = (of: (day: BroodDay) => number): number =>
    before.reduce((sum, day) => sum + of(day), 0) / before.length;
  return { medianC: mean((day) => day.medianC), spreadC: mean((day) => day.spreadC) };
}

interface Failing {
  readonly index: number;
  readonly days: number;
  readonly usual: Usual | null;
}

/** Days in a row that lost their regulation, with no regulated day since: where they began, and what was usual before. */
function failingSince(full: readonly BroodDay[]): Failing | null {
  let open = null as Failing | null;
  let run = 0;
  for (const [i, day] of full.entries()) {
    // A steady day at the edge of the band ends it too, but shows no usual level.
    if (isRegulated(day) || isSteady(day)) open = null;
    const usual: Usual | null = usualBefore(full, i - run) ?? open?.usual ?? null;
    run = lost(day, usual ?? { medianC: broodNestC.value, spreadC: usualSpreadK.value }) ? run + 1 : 0;
    if (open === null && run >= failingDays) open = { index: i - run + 1, days: 0, usual };
  }
  return open && { ...open, days: full.length - open.index };
}

/**
 * A nest that was regulated for days and has not been for the two newest full ones, while its sensor goes on
 * reporting; until a regulated day ends it. A silent sensor, a broodless stage and a probe that was moved out of the warm
 * at a visit are not a failing.
 */
export function colonyFailing(
  days: readonly BroodDay[],
  today: string,
  regimeOn: (date: string) => BroodRegime,
  jumps: readonly (ProbeJump & { date: string })[],
  { notNest = null, putBackOn = null }: ProbeKnown = {},
): ColonyFailing {
  const full = days.filter((day) => day.date < today && day.coverage >= leastCoverage);
  const newest = full.at(-1);
  if (!newest || daysFrom(newest.date, today) > 2) {
    return {
      state: 'cannot-tell',
      since: null,
      why: 'no brood temperature in the last days: a silent sensor says nothing about the colony',
    };
  }
  const found = failingSince(full);
  const first = found && full[found.index];
  if (!first) return { state: 'no', since: null, why: 'the nest is regulated' };
  const { usual } = found;
  if (usual === null) return { state: 'cannot-tell', since: null, why: 'it was not regulated before either' };
  const before = full[found.index - 1];
  if (!before || daysFrom(before.date, first.date) > 2) {
    return {
      state: 'cannot-tell',
      since: null,
      why: 'the readings broke off before it: the probe may lie elsewhere since',
    };
  }
  const jump = jumps.find(
    (j) =>
      j.explainedBy &&
      j.toC < j.fromC &&
      Math.abs(daysFrom(first.date, j.date)) <= probeMovedWithinDays.value,
  );
  if (jump)
    return {
      state: 'cannot-tell',
      since: null,
      why: 'the probe moved at a visit: its readings are of another place since',
    };
  if (putBackOn !== null && first.date <= putBackOn)
    return { state: 'cannot-tell', since: null, why: putBack };
  if (notNest !== null) return { state: 'cannot-tell', since: null, why: notNest };
  if (regimeOn(first.date) === 'broodless')
    return { state: 'no', since: null, why: 'without brood no steady nest is expected' };
  return {
    state: 'failing',
    since: first.date,
    why: say`${String(found.days)} days without regulation (${degC(newest.medianC)} on the last full day, spread ${kelvin(newest.spreadC)}) after ${degC(usual.medianC)} held steadily`,
  };
}
