/** Robbing: the box loses weight fast by daylight, day after day or for hours on end, and gets nothing back at dusk. */
import { departureAtMostG } from '../../biology/weight-figures.ts';
import { departureSureShare, robbingTimesUsual } from '../../biology/scale-figures.ts';
import { robbingLossG } from '../../biology/assumed-figures.ts';
import { daysFrom } from '../days.ts';
import { grams, say } from '../../words/phrase.ts';
import { hourMs } from '../series.ts';
import { runningMedians } from '../statistics/robust.ts';
import type { MassDeparture, NightWeight, Robbing, Series, WeightStep, WithinDay } from '../types.ts';
import { counted } from '../../words/sentence.ts';

/** Loss over a day, beyond the night's own rate, that no colony of a nuc's size eats. */
const leastLossG = robbingLossG.value;
/** And beyond what its own earlier days lost. */
const timesUsual = robbingTimesUsual.value;
/** Method: days that tell the usual. */
const usualDays = 5;
/** Method: the newest days, of which two were robbed. */
const newestDays = 3;

export interface DayLoss {
  readonly date: string;
  /** Weight that the day took, dawn to dusk, steps and departures taken out; positive is loss. */
  readonly lossG: number;
  readonly fastestGPerH: number;
  /** Newest day, perhaps not over. */
  readonly open: boolean;
  /** More than bees can be: this one day is a finding. */
  readonly carriedOff?: true;
}

/** What a day has taken so far, g: in all, and beside its steepest hour. */
export interface TakenSoFar {
  readonly lossG: number;
  readonly besideG: number;
}

/** Method: bins that make a level. */
const levelBins = 3;

/** From the night's end to the newest level; null where too little was read since. A gap counts as one hour. */
export function takenSoFar({ levelG }: NightWeight, { atMs, value }: Series): TakenSoFar | null {
  const n = value.length - levelBins + 1;
  if (n < 1) return null;
  const levels = runningMedians(value, levelBins);
  const lossG = levelG - (levels[n - 1] as number);
  let steepestG = 0;
  for (let i = 1; i < n; i++)
    for (let j = i - 1; j >= 0; j--) {
      if (j < i - 1 && (atMs[i] as number) - (atMs[j] as number) > hourMs) break;
      steepestG = Math.max(steepestG, (levels[j] as number) - (levels[i] as number));
    }
  return { lossG, besideG: lossG - steepestG };
}

/**
 * Whether honey is carried off: a swarm or a colony that absconds is gone within an hour, and what is left beside that hour
 * is more than the bees that are ever out at once, and what a nuc eats.
 */
export const isCarriedOff = (taken: TakenSoFar | null, mostBeesG = departureAtMostG.value): boolean =>
  taken !== null && taken.besideG >= leastLossG + departureSureShare.value * mostBeesG;

/**
 * Days of robbing among `days`. One day is a suspicion, unless it took more than bees can be; the second is a finding:
 * foragers' drift and absconding also take weight in one day, robbers come again as long as there is honey.
 */
export function robbing(days: readonly DayLoss[], today = days.at(-1)?.date): Robbing {
  const found: DayLoss[] = [];
  const robbed = days.map(() => false);
  days.forEach((day, i) => {
    let usual = 0;
    for (let j = Math.max(0, i - usualDays); j < i; j++)
      if (!robbed[j]) usual = Math.max(usual, (days[j] as DayLoss).lossG);
    robbed[i] =
      day.carriedOff === true ||
      day.lossG >= Math.max(leastLossG, Math.min(timesUsual * usual, 2 * leastLossG));
    if (robbed[i]) found.push(day);
  });
  const newest = days.at(-1)?.date;
  // Days without a reading tell of no robbers.
  const isFresh = newest !== undefined && today !== undefined && daysFrom(newest, today) <= 1;
  const carriedOff = days.at(-1)?.carriedOff === true;
  const underWay =
    isFresh &&
    robbed.at(-1) === true &&
    (carriedOff || robbed.slice(-newestDays).filter(Boolean).length >= 2);
  const why =
    found.length === 0
      ? 'no day lost more than a nuc eats'
      : say`${counted(found.length, 'day')} with a loss of ${grams(leastLossG)} or more by daylight`;
  return {
    days: found.map(({ date, lossG, fastestGPerH }) => ({ date, lossG, fastestGPerH })),
    underWay,
    ...(underWay && carriedOff && { carriedOff: true as const }),
    why,
  };
}

/** What a day took, from its evening and the night before it. */
export function dayLoss(
  daily: WithinDay,
  night: NightWeight | null,
  lowestSoFarG: number | null,
  departures: readonly MassDeparture[],
  steps: readonly WeightStep[],
  fastestGPerH: number,
  open: boolean,
  carriedOff = false,
): DayLoss | null {
  if (!night) return null;
  const netG = daily.netG ?? (open && lowestSoFarG !== null ? lowestSoFarG - night.levelG : null);
  if (netG === null) return null;
  // One that has the shape of a step was taken out as one.
  const left = departures.reduce((sum, d) => sum + (d.likeAHand ? 0 : d.lossG), 0);
  // After a topple or a lift the level is another one: the day can't be read.
  if (steps.some((s) => s.kind === 'toppled' || s.kind === 'gone' || s.kind === 'lifted')) return null;
  const lossG = Math.max(0, -netG - left);
  return { date: daily.date, lossG, fastestGPerH, open, ...(carriedOff && { carriedOff }) };
}
