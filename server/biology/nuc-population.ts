/**
 * Adults of a nuc day by day: bees of the split less those that fly home, the brood that came with it
 * emerging by its calendar, deaths; frames of brood given since; after a queen's first eggs, her young 20 days on, while
 * she lays. A later count of the bees takes the place of what was worked out until then. A delay line
 * of 20 days instead of a model's eclosion term: a queenless nuc has no other source of bees.
 *
 * Spread comes from running the line three times with the low, usual and high ends of its figures.
 */
import { highEnd, lowEnd, type Figure } from './figure.ts';
import {
  broodShareOfFrame,
  foragersLeavePerDay,
  fullLayAfterDays,
  cellsPerFrame,
  eggStageDays,
  eggToAdultSurvival,
  houseBeeDeathPerDay,
  larvaToAdultSurvival,
  nucLayingPerDay,
  sealedToAdultSurvival,
  workerSealedDays,
  workerUsuallyEmergesDays,
} from './figures.ts';
import { beesPerFrame } from './thermal-figures.ts';
import { foragerShare } from './weight-figures.ts';

export interface NucAtSplit {
  readonly framesOfBees: number;
  readonly framesOfSealedBrood: number;
  readonly framesOfOpenBrood: number;
  /** Bees that have flown home as the scale measured it, where it could. */
  readonly foragersGone?: { readonly bees: number; readonly low: number; readonly high: number };
  /** Day of the new queen's first eggs, counted from the split. */
  readonly firstEggsDay?: number;
  /** Queens that laid in it before and are gone. */
  readonly laidBefore?: readonly LayingTime[];
  /** Frames of brood that were given since, without their bees. */
  readonly broodGiven?: readonly BroodGiven[];
  /** Frames of bees counted again since, in the order of their days. */
  readonly counted?: readonly BeesCounted[];
}

export interface BroodGiven {
  readonly day: number;
  readonly framesOfSealedBrood: number;
  readonly framesOfOpenBrood: number;
}

export interface BeesCounted {
  readonly day: number;
  readonly framesOfBees: number;
}

export interface LayingTime {
  readonly firstEggsDay: number;
  readonly lastEggsDay: number;
}

export interface BeesOnDay {
  readonly day: number;
  readonly bees: number;
  readonly low: number;
  readonly high: number;
}

export interface NucProjection {
  readonly days: readonly BeesOnDay[];
  /** The fewest bees after the last of the old brood has emerged: before young of the new queen make up for it. */
  readonly trough: BeesOnDay;
}

interface Run {
  readonly beesPerFrame: number;
  /** Adults that come from a frame of sealed, and of open brood. */
  readonly fromSealedFrame: number;
  readonly fromOpenFrame: number;
  readonly fromEgg: number;
  readonly deaths: number;
  readonly gone: number;
  readonly laying: number;
}

const end = (figure: Figure, which: 'low' | 'value' | 'high'): number =>
  ({ low: lowEnd(figure), value: figure.value, high: highEnd(figure) })[which];

/** Open brood is eggs for a third of its time, then larvae. */
function openSurvival(which: 'low' | 'value' | 'high'): number {
  const eggs = eggStageDays.value / workerSealedDays.value;
  return eggs * end(eggToAdultSurvival, which) + (1 - eggs) * end(larvaToAdultSurvival, which);
}

/** The run with the fewest, the usual or the most bees. */
function runOf(which: 'low' | 'value' | 'high', split: NucAtSplit): Run {
  const opposite = which === 'low' ? 'high' : which === 'high' ? 'low' : 'value';
  const perFrame = end(beesPerFrame, which);
  const measured = split.foragersGone;
  const gone = measured
    ? { low: measured.low, value: measured.bees, high: measured.high }[opposite]
    : end(foragerShare, opposite) * perFrame * split.framesOfBees;
  const broodCells = cellsPerFrame.value * end(broodShareOfFrame, which);
  return {
    beesPerFrame: perFrame,
    fromSealedFrame: broodCells * end(sealedToAdultSurvival, which),
    fromOpenFrame: broodCells * openSurvival(which),
    fromEgg: end(eggToAdultSurvival, which),
    deaths: end(houseBeeDeathPerDay, opposite),
    gone,
    laying: end(nucLayingPerDay, which),
  };
}

/** Eggs of that day, as a share of a full day's. */
const shareLaid = (day: number, { firstEggsDay, lastEggsDay }: LayingTime): number =>
  day > lastEggsDay ? 0 : Math.min(1, Math.max(0, (day - firstEggsDay + 1) / fullLayAfterDays.value));

/** Young of frames that came in on day 0, on the day that begins at `day`: sealed brood over 11 days, open brood over the 9 after. */
function fromFrames(day: number, brood: Omit<BroodGiven, 'day'>, run: Run): number {
  const emergesDay = workerUsuallyEmergesDays.value;
  const sealedSpan = emergesDay - workerSealedDays.value;
  if (day < 0 || day >= emergesDay) return 0;
  return day < sealedSpan
    ? (brood.framesOfSealedBrood * run.fromSealedFrame) / sealedSpan
    : (brood.framesOfOpenBrood * run.fromOpenFrame) / workerSealedDays.value;
}

/** Young that emerge on the day that begins at `day`. */
function emerging(day: number, split: NucAtSplit, run: Run): number {
  const emergesDay = workerUsuallyEmergesDays.value;
  const { firstEggsDay, laidBefore = [], broodGiven = [] } = split;
  const fromBrood = [{ ...split, day: 0 }, ...broodGiven].reduce(
    (sum, brood) => sum + fromFrames(day - brood.day, brood, run),
    0,
  );
  const lays = firstEggsDay === undefined ? [] : [{ firstEggsDay, lastEggsDay: Infinity }];
  const eggs = [...laidBefore, ...lays].reduce(
    (sum, time) => sum + run.laying * shareLaid(day - emergesDay, time),
    0,
  );
  return fromBrood + eggs * run.fromEgg;
}

function* bees(split: NucAtSplit, run: Run, days: number): Generator<number> {
  let toLeave = Math.min(run.gone, run.beesPerFrame * split.framesOfBees);
  let staying = run.beesPerFrame * split.framesOfBees - toLeave;
  for (let day = 0; day <= days; day++) {
    const counted = split.counted?.findLast((count) => count.day === day);
    if (counted) {
      const all = counted.framesOfBees * run.beesPerFrame;
      toLeave = Math.min(toLeave, all);
      staying = all - toLeave;
    }
    yield staying + toLeave;
    toLeave *= 1 - foragersLeavePerDay.value;
    staying = staying * (1 - run.deaths) + emerging(day, split, run);
  }
}

/** Bees on each day from the split (day 0) to `days`. */
export function projectNuc(split: NucAtSplit, days: number): NucProjection {
  const run = (which: 'low' | 'value' | 'high'): number[] => [...bees(split, runOf(which, split), days)];
  const low = run('low');
  const high = run('high');
  const projected = run('value').map((count, day) => ({
    day,
    bees: Math.round(count),
    low: Math.round(low[day] as number),
    high: Math.round(high[day] as number),
  }));
  const afterOldBrood = projected.filter(({ day }) => day >= workerUsuallyEmergesDays.value);
  const trough = (afterOldBrood.length > 0 ? afterOldBrood : projected).reduce((a, b) =>
    b.bees < a.bees ? b : a,
  );
  return { days: projected, trough };
}

/** Frames of bees that so many bees cover. */
export const framesCovered = (count: number): number => count / beesPerFrame.value;
